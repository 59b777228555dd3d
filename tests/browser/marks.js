// The marks of the pictures: what is drawn, where, and in which colour, for the measuring of contrast.
// Units: CSS pixels from the top left corner of the page; colours as the browser says them.
globalThis.marks = (() => {
  const SHAPES = "path, line, circle, ellipse, rect, polyline, polygon, use";
  const SAMPLES = 8;
  // Of a line that runs on beyond a clip only some are let through.
  const SAMPLES_CLIPPED = 64;
  // Lines of these tones carry no meaning alone: grids; borders in the colour of what lies behind.
  const EXEMPT = /(^|\s)s-(grid|paper|glass|tint)(\s|$)/;
  // Surfaces of these tones carry no meaning without the line round them.
  const SURFACES = /(^|\s)f-(ink|soft|accent|second)(\s|$)/;

  const classOf = (shape, tone) => shape.closest(`[class*="${tone}-"]`)?.getAttribute("class") ?? "";
  const geometryOf = (shape) => shape.tagName === "use" ? document.querySelector(shape.getAttribute("href")) : shape;

  // Whether the picture's clips let a point of the screen through.
  const letThrough = (shape, point) => {
    for (let up = shape; up instanceof SVGElement; up = up.parentElement) {
      const id = /url\(#(.+)\)/.exec(up.getAttribute("clip-path") ?? "")?.[1];
      if (!id) continue;
      const local = point.matrixTransform(up.getScreenCTM().inverse());
      const inside = [...document.getElementById(id).children].some((clip) => geometryOf(clip).isPointInFill(local));
      if (!inside) return false;
    }
    return true;
  };

  // How far beside a line its ground is looked at, and a little more.
  const BESIDE = 2.5;

  // Whether another dot of the picture lies there: what it covers, or touches, is not to be told from it.
  const dots = (picture) => [...picture.querySelectorAll("circle")].filter((dot) => getComputedStyle(dot).fill !== "none").map((dot) => {
    const ctm = dot.getScreenCTM(), middle = new DOMPoint(dot.cx.baseVal.value, dot.cy.baseVal.value).matrixTransform(ctm);
    return { dot, middle, reach: dot.r.baseVal.value * Math.abs(ctm.a) + BESIDE };
  });
  const underDot = (shape, point, among) => among.some(({ dot, middle, reach }) =>
    dot !== shape && Math.hypot(point.x - middle.x, point.y - middle.y) <= reach);

  const samples = (shape, among) => {
    const geometry = geometryOf(shape), long = geometry.getTotalLength(), ctm = shape.getScreenCTM();
    const points = [], count = shape.closest("[clip-path]") ? SAMPLES_CLIPPED : SAMPLES;
    for (let i = 0; i < count && long > 0; i += 1) {
      const at = geometry.getPointAtLength(((i + 0.5) / count) * long);
      const point = new DOMPoint(at.x, at.y).matrixTransform(ctm);
      if (letThrough(shape, point) && !underDot(shape, point, among)) points.push([Math.round(point.x + scrollX), Math.round(point.y + scrollY)]);
    }
    return points;
  };

  const lineOf = (shape) => {
    const style = getComputedStyle(shape), scale = Math.abs(shape.getScreenCTM().a);
    if (style.stroke !== "none" && !EXEMPT.test(classOf(shape, "s"))) {
      return { colour: style.stroke, width: parseFloat(style.strokeWidth) * scale, kind: "line" };
    }
    if (style.fill !== "none" && style.stroke === "none" && SURFACES.test(classOf(shape, "f"))) {
      return { colour: style.fill, width: 0, kind: "surface" };
    }
    return null;
  };

  const linesOf = (picture, among = dots(picture)) =>
    [...picture.querySelectorAll(SHAPES)].filter((shape) => !shape.closest("clipPath, defs, a") && measure.seen(shape)).flatMap((shape) => {
      const line = lineOf(shape);
      if (!line) return [];
      const name = `${line.kind} <${shape.tagName}> ${classOf(shape, line.kind === "line" ? "s" : "f") || shape.closest("[stroke]")?.getAttribute("stroke") || ""}`;
      return [{ ...line, name, points: samples(shape, among) }];
    });

  const all = () => measure.pictures().map((picture) => ({
    name: picture.querySelector("title")?.textContent ?? "",
    box: measure.onPage(picture.getBoundingClientRect()),
    texts: measure.texts(picture).map(({ text, box }) => {
      const style = getComputedStyle(text), size = parseFloat(style.fontSize) * Math.abs(text.getScreenCTM().a);
      return { text: text.textContent, box: measure.onPage(box), colour: style.fill, size };
    }),
    lines: linesOf(picture),
  }));

  // Colours alone, in the order of `all`: nothing else changes between light and dark.
  const colours = () => measure.pictures().map((picture) => ({
    texts: measure.texts(picture).map(({ text }) => getComputedStyle(text).fill),
    lines: [...picture.querySelectorAll(SHAPES)].filter((shape) => !shape.closest("clipPath, defs, a") && measure.seen(shape))
      .map(lineOf).filter(Boolean).map((line) => line.colour),
  }));

  // Letters vanish, the borders that keep lines away from them stay; lines vanish, surfaces stay.
  const HIDDEN = `
    .no-letters svg.picture text { fill: transparent !important }
    .no-letters svg.picture text:not(.halo, .halo *) { stroke: transparent !important }
    .no-lines svg.picture :is(${SHAPES}) { stroke: transparent !important }`;
  document.head.append(Object.assign(document.createElement("style"), { textContent: HIDDEN }));
  const show = (hidden) => { document.documentElement.className = hidden; };

  return { all, colours, show };
})();
