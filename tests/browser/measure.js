// What the tests measure inside the page. Evaluated once in every page; it adds nothing to the document.
// Units: CSS pixels from the top left corner of the page, unless it says mm.
globalThis.measure = (() => {
  const PX_PER_MM = 96 / 25.4;
  const pen = document.createElement("canvas").getContext("2d");

  // A short name by which a person finds the element.
  const nameOf = (element) => {
    const picture = element.closest("svg");
    const title = picture?.querySelector("title")?.textContent;
    const id = element.closest("[id]")?.id;
    const text = element.textContent.trim().replace(/\s+/g, " ").slice(0, 40);
    const place = title ? ` in “${title}”` : id ? ` at #${id}` : "";
    return `<${element.tagName.toLowerCase()}> “${element === picture ? "" : text}”${place}`;
  };

  // How far letters reach above and below their baseline, and how far the font does; in the units of the style. Chromium
  // rounds such measures to whole pixels, as the layout does for the font's; so letters are measured large.
  const LARGE = 100;
  const reach = (text, style) => {
    const measured = (size) => {
      pen.font = `${style.fontStyle} ${style.fontWeight} ${size}px ${style.fontFamily}`;
      return pen.measureText(text);
    };
    const size = parseFloat(style.fontSize), large = measured(LARGE * size);
    return {
      up: large.actualBoundingBoxAscent / LARGE, down: large.actualBoundingBoxDescent / LARGE,
      fontUp: measured(size).fontBoundingBoxAscent,
    };
  };

  const seen = (element) =>
    element.checkVisibility({ opacityProperty: true, visibilityProperty: true, contentVisibilityAuto: true });

  // Words for those who listen are in the page, and take no room that anybody sees.
  const forListeners = (element) => {
    for (let up = element; up; up = up.parentElement) {
      if (getComputedStyle(up).clipPath.startsWith("inset(50%")) return true;
    }
    return false;
  };

  const boxOf = (corners) => {
    const xs = corners.map((p) => p.x), ys = corners.map((p) => p.y);
    return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
  };

  const onPage = (box) => ({
    left: box.left + scrollX, right: box.right + scrollX, top: box.top + scrollY, bottom: box.bottom + scrollY,
  });

  const pictures = () => [...document.querySelectorAll("svg.picture")].filter(seen);

  // The box round the letters of a text of a picture, as four corners: it may be turned.
  const lettersOf = (text) => {
    const style = getComputedStyle(text), box = text.getBBox(), ctm = text.getScreenCTM();
    const { up, down } = reach(text.textContent, style), base = text.getStartPositionOfChar(0).y;
    const corner = (x, y) => new DOMPoint(x, y).matrixTransform(ctm);
    const [l, r, t, b] = [box.x, box.x + box.width, base - up, base + down];
    return [corner(l, t), corner(r, t), corner(r, b), corner(l, b)];
  };

  const texts = (picture) =>
    [...picture.querySelectorAll("text")].filter((text) => text.textContent.trim() && seen(text)).map((text) => {
      const corners = lettersOf(text);
      return { text, corners, box: boxOf(corners) };
    });

  // How deep two convex shapes lie in each other, 0 if they are apart (separating axes).
  const depth = (one, other) => {
    let least = Infinity;
    for (const shape of [one, other]) {
      for (let i = 0; i < 2; i += 1) {
        const [dx, dy] = [shape[i + 1].x - shape[i].x, shape[i + 1].y - shape[i].y], long = Math.hypot(dx, dy) || 1;
        const along = (corners) => corners.map((p) => (p.x * -dy + p.y * dx) / long);
        const [a, b] = [along(one), along(other)];
        least = Math.min(least, Math.min(Math.max(...a), Math.max(...b)) - Math.max(Math.min(...a), Math.min(...b)));
      }
    }
    return Math.max(0, least);
  };

  const fault = (check, element, measured, bound) => ({ check, element, measured, bound });

  const labelFaults = (picture, all, bound) => {
    const faults = [], frame = picture.getBoundingClientRect();
    all.forEach(({ text, corners, box }, i) => {
      const out = Math.max(frame.left - box.left, box.right - frame.right, frame.top - box.top, box.bottom - frame.bottom);
      if (out > bound) faults.push(fault("text outside its picture", nameOf(text), `${out.toFixed(2)} px out`, `${bound} px`));
      for (const other of all.slice(i + 1)) {
        const deep = depth(corners, other.corners);
        if (deep > bound) {
          faults.push(fault("labels overlap", `${nameOf(text)} and “${other.text.textContent}”`, `${deep.toFixed(2)} px`, `${bound} px`));
        }
      }
    });
    return faults;
  };

  // A picture that says how many millimetres it measures does so.
  const sizeFaults = (picture, bound) => {
    const faults = [], box = picture.getBoundingClientRect(), view = picture.viewBox.baseVal;
    for (const side of ["width", "height"]) {
      const said = picture.getAttribute(side) ?? "", mm = said.endsWith("mm") ? parseFloat(said) : NaN;
      const off = Math.abs(box[side] - mm * PX_PER_MM);
      if (!(off <= bound)) faults.push(fault("picture not true", nameOf(picture), `${side} ${box[side].toFixed(2)} px`, `${said} ± ${bound} px`));
      if (!(Math.abs(view[side] - mm) <= 0.01)) faults.push(fault("picture not true", nameOf(picture), `viewBox ${side} ${view[side]}`, `${said}, one unit a millimetre`));
    }
    return faults;
  };

  const sides = (element) => {
    const { left, right, top, bottom } = element.getBoundingClientRect();
    return { left, right, top, bottom };
  };

  // The boxes of what is drawn in a picture, letters and all else; its sheet may be larger.
  const drawn = (picture) => {
    const shapes = [...picture.querySelectorAll("path, line, circle, ellipse, rect, polyline, polygon, use")]
      .filter((shape) => !shape.closest("clipPath, defs, [clip-path]")); // a clip's outline is drawn itself
    return [...texts(picture).map(({ box }) => box), ...shapes.map(sides)];
  };

  // How deep two boxes lie in each other, across or down, whichever is less.
  const meet = (one, other) => Math.min(
    Math.min(one.right, other.right) - Math.max(one.left, other.left),
    Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top),
  );

  // What of a box its ancestors let through, and by how much one that cannot be scrolled cuts it.
  const clipped = (element, box) => {
    let shown = { ...box }, cut = 0;
    for (let up = element; up && up !== document.documentElement; up = up.parentElement) {
      const style = getComputedStyle(up);
      if (style.overflowX === "visible" && style.overflowY === "visible") continue;
      const frame = up.getBoundingClientRect();
      for (const [axis, from, to] of [["overflowX", "left", "right"], ["overflowY", "top", "bottom"]]) {
        if (style[axis] === "visible") continue;
        const over = Math.max(frame[from] - shown[from], shown[to] - frame[to]);
        if (over > 0 && (style[axis] === "hidden" || style[axis] === "clip")) cut = Math.max(cut, over);
        shown[from] = Math.max(shown[from], frame[from]);
        shown[to] = Math.min(shown[to], frame[to]);
      }
    }
    return { shown, cut };
  };

  // The lines of text of the page outside pictures, as boxes round their letters.
  const wordLines = () => {
    const lines = [], walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const element = node.parentElement;
      if (!node.data.trim() || element.closest("svg, style, script, title") || !seen(element) || forListeners(element)) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const { up, down, fontUp } = reach(node.data.trim(), getComputedStyle(element));
      for (const rect of range.getClientRects()) {
        if (rect.width < 1) continue;
        const base = rect.top + fontUp;
        const { shown, cut } = clipped(element, { left: rect.left, right: rect.right, top: base - up, bottom: base + down });
        lines.push({ element, text: node.data.trim().slice(0, 40), box: shown, cut });
      }
    }
    return lines;
  };

  const wordFaults = (lines, bound) => {
    const faults = lines.filter((line) => line.cut > bound).map((line) =>
      fault("text cut", nameOf(line.element), `${line.cut.toFixed(1)} px`, `${bound} px`));
    const frames = pictures().map((picture) => {
      return { element: picture, text: "", box: clipped(picture.parentElement, sides(picture)).shown };
    });
    const all = [...lines, ...frames].filter(({ box }) => box.right > box.left && box.bottom > box.top);
    all.sort((one, other) => one.box.top - other.box.top);
    all.forEach((one, i) => {
      for (let k = i + 1; k < all.length && all[k].box.top < one.box.bottom - bound; k += 1) {
        const other = all[k];
        if (one.element.contains(other.element) && other.element.closest("svg")) continue;
        if (meet(one.box, other.box) <= bound) continue;
        const parts = [one, other].map(({ element, box }) => element.matches("svg") ? drawn(element) : [box]);
        const deep = Math.max(...parts[0].flatMap((a) => parts[1].map((b) => meet(a, b))));
        if (deep > bound) {
          faults.push(fault("texts overlap", `${nameOf(one.element)} and ${nameOf(other.element)}`, `${deep.toFixed(1)} px`, `${bound} px`));
        }
      }
    });
    return faults;
  };

  // The page itself never scrolls sideways. The widest elements that no scroller holds are named.
  const widthFaults = () => {
    const over = document.scrollingElement.scrollWidth - innerWidth;
    if (over <= 1) return []; // a part of a pixel, rounded up
    const outside = [...document.body.querySelectorAll("*")].filter((element) =>
      !element.closest("svg *") && element.getBoundingClientRect().right > innerWidth + 0.5
      && clipped(element.parentElement, sides(element)).shown.right > innerWidth + 0.5);
    const innermost = outside.filter((element) => !outside.some((other) => other !== element && element.contains(other)));
    const names = innermost.slice(0, 3).map((element) => nameOf(element)).join("; ");
    return [fault("page scrolls sideways", names || "page", `${over} px`, "1 px")];
  };

  // What changes with the width of the page.
  const layout = () => {
    const lines = wordLines();
    const faults = [...widthFaults(), ...wordFaults(lines, 1), ...pictures().flatMap((picture) => sizeFaults(picture, 0.5))];
    return { faults, facts: { pictures: pictures().length, "lines of text": lines.length } };
  };

  // What is the same at every width.
  const labels = () => pictures().flatMap((picture) => labelFaults(picture, texts(picture), 0.5));

  // The ground that the style sheet puts behind an element; null if it is no plain colour.
  const groundOf = (element) => {
    for (let up = element; up; up = up.parentElement) {
      const { backgroundColor, backgroundImage } = getComputedStyle(up);
      if (backgroundImage !== "none") return null;
      const alpha = /rgba\(.*, ([\d.]+)\)/.exec(backgroundColor)?.[1] ?? "1";
      if (alpha === "1") return backgroundColor;
      if (alpha !== "0") return null;
    }
    return "rgb(255, 255, 255)";
  };

  // The words outside pictures: colour, ground, size and weight, each kind once.
  const words = () => {
    const kinds = new Map();
    for (const { element } of wordLines()) {
      const { color, fontSize, fontWeight } = getComputedStyle(element), ground = groundOf(element);
      const key = [color, ground, fontSize, fontWeight].join();
      if (!kinds.has(key)) kinds.set(key, { name: nameOf(element), colour: color, ground, size: parseFloat(fontSize), weight: Number(fontWeight) });
    }
    return [...kinds.values()];
  };

  const openAll = () => document.querySelectorAll("details").forEach((details) => { details.open = true; });

  return { PX_PER_MM, nameOf, seen, pictures, texts, onPage, layout, labels, words, openAll };
})();
