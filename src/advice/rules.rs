//! The rules of advice and their limits.
//!
//! Units in the names. A limit is of common practice where its row says so, and ours where it says that: no published
//! figure is known for it.

use super::Applies::{ToEdge, ToLens, ToPair};
use super::Shown::{Apart, Decimals};
use super::{Found, Rule, Severity, Subject};
use crate::assess::{Made, OffRim};
use crate::choose::base::{self, ChosenBy};
use crate::choose::{Substance, Supply};
use crate::eye::Eye;
use crate::rim::{MOVED_MM, Position, Rim};
use kurbo::Vec2;

const PRACTICE: &str = "common practice, no source";
const NO_NUMBERS: Found = Found { value: 0.0, limit: 0.0 };

/// Spectacle glass is at least twice as dense as water and every resin here less than one and a half times, g/cm³.
const GLASS_DENSITY: f64 = 2.0;
/// Here ultraviolet ends and light begins (ISO 13666; from memory).
const UV_END_NM: f64 = 380.0;
/// From this index on lenses are sold as thin, and are commonly expected to stop ultraviolet.
const HIGH_INDEX: f64 = 1.6;
/// A bare lens of index 1.50 gives back 7.7 %; half as much again shows (ours).
const REFLECTION_PERCENT: f64 = 12.0;
/// Well above the 0.1 Δ that textbooks give as just noticeable (from memory): by how much is ours.
const FRINGE_PD: f64 = 0.25;
/// How far from the reference point the fringes are told.
const FRINGE_AT_MM: f64 = 10.0;
/// So much behind the rim and a nose pad's arm has no room to be set.
const NASAL_BEHIND_MM: f64 = 3.0;
/// So much behind the rim and a side's joint may be in the way.
const TEMPORAL_BEHIND_MM: f64 = 4.0;
/// So much behind the rim is seen from the side.
const SHOWS_BEHIND_MM: f64 = 4.0;
/// A bevel so far off its rim's own curve wants more of the rim than it gives by itself.
const OFF_RIM_MM: f64 = 0.3;
/// A back flatter than this stands close before the lashes.
const FLAT_BACK_D: f64 = -1.0;
/// The edge of a plus lens below this is sharp.
const SHARP_EDGE_MM: f64 = 1.0;
/// Spectacles heavier than this press.
const HEAVY_G: f64 = 40.0;
/// Both lenses, where the frame's mass is not known.
const HEAVY_LENSES_G: f64 = 25.0;
/// So much more on one side and spectacles slip to it.
const UNEQUAL_G: f64 = 3.0;
/// So much thicker and the other lens looks it.
const UNEQUAL_EDGES_MM: f64 = 2.0;
/// Fronts that differ so much are seen to.
const UNEQUAL_BASES_D: f64 = 2.0;

/// All rules, in the order in which their cautions are listed.
pub const RULES: &[Rule] = &[
    Rule {
        id: "fit.reference-outside",
        severity: Severity::Warning,
        applies: ToLens(|_, made| {
            let c = made.centration;
            made.thickness.centre_mm.is_none().then(|| Found { value: c.in_mm.hypot(c.up_mm), limit: 0.0 })
        }),
        shown: Apart,
        dispenser: "The reference point lies outside the lens shape, {value} mm from the boxed centre: everywhere in \
                    the lens there is prism that was not prescribed.",
        wearer: "This frame does not sit in front of the eye.",
        mend: "Check the pd, the heights and the size.",
        source: "geometry",
        judged: false,
    },
    Rule {
        id: "fit.blank-decentred",
        severity: Severity::Caution,
        applies: ToLens(|_, made| {
            let blank = &made.blank;
            let limit = blank.diameter_mm.unwrap_or(crate::material::INLINE_DIAMETERS_MM[3]);
            blank.decentred.then_some(Found { value: blank.minimum_mm, limit })
        }),
        shown: Apart,
        dispenser: "It wants a blank of {value} mm and the largest is {limit} mm.",
        wearer: "The lens nearly outgrows the largest blank it can be cut from.",
        mend: "The lab must surface it with the reference point off the middle of the blank, or a smaller eye size is taken, if \
               its bridge fits your nose.",
        source: "geometry; allowance of 1 mm all round is common practice, no source",
        judged: false,
    },
    Rule {
        id: "fit.base-unlisted",
        severity: Severity::Caution,
        applies: ToLens(|subject, made| {
            let base = made.base.base_curve_d;
            let near = base::nearest(base::listed_bases(subject.option), base);
            (made.base.chosen_by == ChosenBy::Job && near != base).then_some(Found { value: base, limit: near })
        }),
        shown: Decimals(2),
        dispenser: "The material is not listed in base {value}; the nearest is {limit}.",
        wearer: "This front curve may not be to be had.",
        mend: "Ask the lab, or take the nearest.",
        source: "the material's list of blanks",
        judged: true,
    },
    Rule {
        id: "fit.centre-below-usual",
        severity: Severity::Caution,
        applies: ToLens(|_, made| below_usual(made.minima.kept.centre_mm, made.minima.usual.centre_mm)),
        shown: Apart,
        dispenser: "The job asks for a centre minimum of {value} mm; {limit} mm is usual for this material and rim.",
        wearer: "Made {value} mm thin in the middle where {limit} mm is usual, and so less strong.",
        mend: "Leave it to the material, or ask the lab whether it will make and warrant it so.",
        source: PRACTICE,
        judged: true,
    },
    Rule {
        id: "fit.edge-below-usual",
        severity: Severity::Caution,
        applies: ToLens(|_, made| below_usual(made.minima.kept.edge_mm, made.minima.usual.edge_mm)),
        shown: Apart,
        dispenser: "The job asks for an edge minimum of {value} mm; {limit} mm is usual for this material and rim.",
        wearer: "Made {value} mm thin at the edge where {limit} mm is usual, so it chips more easily.",
        mend: "Leave it to the material, or ask the lab whether it will make and warrant it so.",
        source: PRACTICE,
        judged: true,
    },
    Rule {
        id: "fit.glass",
        severity: Severity::Caution,
        applies: ToLens(|subject, _| is_glass(subject).then_some(NO_NUMBERS)),
        shown: Apart,
        dispenser: "Mineral glass, taken as untoughened: it can break into sharp pieces. It is not for children, for sport \
                    or for work that endangers the eyes.",
        wearer: "This lens is glass: it can break into sharp pieces.",
        mend: "A toughened lens wants to be thicker than this; local rules on impact decide whether glass may be dispensed at \
               all.",
        source: "common practice, no source; 21 CFR 801.410 is such a rule (from memory)",
        judged: false,
    },
    Rule {
        id: "fit.groove-unsuited",
        severity: Severity::Caution,
        applies: ToLens(|subject, _| {
            let grooved = matches!(subject.frame.rim, Rim::Supra | Rim::ReverseSupra);
            (grooved && !listed(subject, |material| material.grooved)).then_some(NO_NUMBERS)
        }),
        shown: Apart,
        dispenser: "This material is not advised for a groove: it may chip along the cord.",
        wearer: "This material may chip where the cord holds it.",
        mend: "Take another material, or a frame with a rim all round.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.drilling-unsuited",
        severity: Severity::Caution,
        applies: ToLens(|subject, _| {
            let drilled = subject.frame.rim == Rim::Rimless;
            (drilled && !listed(subject, |material| material.drilled)).then_some(NO_NUMBERS)
        }),
        shown: Apart,
        dispenser: "This material is not advised for drilling: it may crack from the holes.",
        wearer: "This material may crack where it is drilled.",
        mend: "Take a tougher material, or a frame with a rim.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.holes-thin",
        severity: Severity::Caution,
        applies: ToLens(|subject, made| {
            let value = made.thickness.holes_mm?.into_iter().reduce(f64::min)?;
            let (_, limit) = subject.frame.rim.floor_mm();
            (value < limit - 1e-9).then_some(Found { value, limit })
        }),
        shown: Apart,
        dispenser: "Only {value} mm at a hole; a drilled lens wants {limit} mm there.",
        wearer: "Only {value} mm thick where it is drilled: it may crack there.",
        mend: "Ask for a thicker edge, or take a frame with a rim.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.plus-edge-sharp",
        severity: Severity::Caution,
        applies: ToLens(|_, made| {
            let value = made.thickness.edges.min.thickness_mm;
            let plus = made.recipe.power.spherical_equivalent() > 0.0;
            (plus && value < SHARP_EDGE_MM - 1e-9).then_some(Found { value, limit: SHARP_EDGE_MM })
        }),
        shown: Apart,
        dispenser: "The thinnest edge of this plus lens is {value} mm: under {limit} mm it is sharp, chips in edging and \
                    hardly holds a bevel.",
        wearer: "The thinnest edge is only {value} mm: it chips easily.",
        mend: "Ask for a least edge of {limit} mm.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.nasal-thick",
        severity: Severity::Caution,
        applies: ToLens(|subject, made| {
            let padded = subject.frame.rim != Rim::Plastic;
            let (nasal, _) = subject.outline.cardinal().nasal_and_temporal(subject.eye);
            beyond_rim(subject, made, nasal, NASAL_BEHIND_MM).filter(|_| padded)
        }),
        shown: Apart,
        dispenser: "The nasal edge is {value} mm; over {limit} mm in this frame it may foul the arms of the nose pads, which \
                    then cannot be set freely.",
        wearer: "The edge beside the nose is {value} mm thick and may be in the way of the nose pads.",
        mend: "What helps is a wider bridge, if it fits your nose, a higher index or a frame without pads; or ask the lab to \
               chamfer the edge there.",
        source: "common practice, no source: more than 3 mm behind the rim",
        judged: false,
    },
    Rule {
        id: "fit.temporal-thick",
        severity: Severity::Caution,
        applies: ToLens(|subject, made| {
            let (_, temporal) = subject.outline.cardinal().nasal_and_temporal(subject.eye);
            beyond_rim(subject, made, temporal, TEMPORAL_BEHIND_MM)
        }),
        shown: Apart,
        dispenser: "The temporal edge is {value} mm; over {limit} mm in this frame it may touch the side near its joint \
                    and keep it from closing.",
        wearer: "The outer edge is {value} mm thick and may keep the sides from folding.",
        mend: "What helps is a smaller eye size, if its bridge fits your nose, a higher index or joints set farther out; or ask \
               the lab to chamfer the edge there.",
        source: "common practice, no source: more than 4 mm behind the rim",
        judged: false,
    },
    Rule {
        id: "fit.edge-behind-rim",
        severity: Severity::Note,
        applies: ToLens(|_, made| {
            let value = made.thickness.beside_rim?.behind_mm;
            (value > SHOWS_BEHIND_MM).then_some(Found { value, limit: SHOWS_BEHIND_MM })
        }),
        shown: Apart,
        dispenser: "At its thickest the edge stands {value} mm behind the rim; more than {limit} mm is plain to \
                    see from the side.",
        wearer: "At its thickest, {value} mm of the edge show behind the rim.",
        mend: "What helps is a smaller eye size, if its bridge fits your nose, a higher index or a deeper rim.",
        source: "geometry; the limit is ours, no source",
        judged: false,
    },
    Rule {
        id: "fit.rim-curve-unlike",
        severity: Severity::Caution,
        applies: ToEdge(|subject, made| {
            let off = OffRim::of(made, subject.eye, subject.frame, subject.outline)?.bevel;
            (off.mm > OFF_RIM_MM).then_some((Found { value: off.mm, limit: OFF_RIM_MM }, off.deg))
        }),
        shown: Decimals(2),
        dispenser: "The bevel does not follow the rim’s own curve: it lies {value} mm off {where}, and so far the rim has to \
                    give; over {limit} mm a flat lens in a steep rim springs out, and a steep one in a flat rim.",
        wearer: "The lens is not curved like the rim of this frame: it strains the rim, and may spring out of it.",
        mend: "What helps is another base curve, near the rim’s own, a bevel on the rim’s curve where the edge is thick enough \
               for it, or a rim bent to the lens where it can be.",
        source: "geometry; the limit is ours, no source",
        judged: false,
    },
    Rule {
        id: "fit.bevel-moved",
        severity: Severity::Caution,
        applies: ToEdge(|subject, made| {
            if subject.frame.edge.position == Position::Usual {
                return None;
            }
            let moved = made.most_moved(subject.eye, subject.frame, subject.outline)?;
            (moved.mm > MOVED_MM).then_some((Found { value: moved.mm, limit: MOVED_MM }, moved.deg))
        }),
        shown: Decimals(2),
        dispenser: "The edge has no room for bevel or groove where they are asked for: {where} they are moved by {value} mm to \
                    stay within it.",
        wearer: "The edge is too thin at one place to be shaped as it was planned: the lens may sit unevenly in its rim.",
        mend: "Ask for a thicker edge, for another position of the bevel, or leave its place to the lab.",
        source: "geometry",
        judged: false,
    },
    Rule {
        id: "fit.back-flat",
        severity: Severity::Caution,
        applies: ToLens(|_, made| {
            let value = made.lens.back_powers_d().into_iter().reduce(f64::max)?;
            (value > FLAT_BACK_D).then_some(Found { value, limit: FLAT_BACK_D })
        }),
        shown: Decimals(2),
        dispenser: "The back is nearly flat or bulges toward the eye ({value} D; {limit} D or more hollow is usual): lashes may \
                    brush it, and it reflects what is behind the wearer.",
        wearer: "The back of the lens is nearly flat: your lashes may touch it.",
        mend: "Take a steeper base curve, and check the vertex distance on the face.",
        source: "common practice, no source; the limit is ours",
        judged: false,
    },
    Rule {
        id: "fit.colour-fringes",
        severity: Severity::Note,
        applies: ToLens(|subject, made| {
            let power = made.recipe.power;
            let strongest_d = power.sphere().abs().max((power.sphere() + power.cylinder()).abs());
            let abbe = subject.option.substance.glass(subject.line).abbe;
            let value = 0.1 * FRINGE_AT_MM * strongest_d / abbe;
            (value > FRINGE_PD).then_some(Found { value, limit: FRINGE_PD })
        }),
        shown: Decimals(2),
        dispenser: "Transverse chromatic aberration of {value} Δ 10 mm off the reference point (Prentice’s rule over the Abbe \
                    number); over {limit} Δ coloured fringes are likely to be noticed, first round lamps at night.",
        wearer: "Looking through the outer part of the lens you may see coloured fringes, first round lamps at night.",
        mend: "What helps is a material of higher Abbe number, and lenses well centred and close to the eyes.",
        source: "Prentice’s rule; the limit is ours, well above the 0.1 Δ that textbooks call just noticeable (from memory)",
        judged: false,
    },
    Rule {
        id: "fit.reflection",
        severity: Severity::Note,
        applies: ToLens(|subject, _| {
            let value = 100.0 * subject.option.substance.glass(subject.line).lens_reflectance();
            (value > REFLECTION_PERCENT).then_some(Found { value, limit: REFLECTION_PERCENT })
        }),
        shown: Decimals(1),
        dispenser: "Uncoated it reflects {value} % of the light, where index 1.50 reflects 7.7 %: there will be reflections and \
                    ghost images, worst when driving at night.",
        wearer: "Without a coating this lens reflects {value} % of the light; that disturbs at night.",
        mend: "Order it with an anti-reflection coating.",
        source: "Fresnel’s equations, both surfaces; the limit of 12 % is ours",
        judged: false,
    },
    Rule {
        id: "fit.uv-passes",
        severity: Severity::Note,
        applies: ToLens(|subject, _| {
            let Substance::Listed(material) = &subject.option.substance else { return None };
            let value = material.uv_cutoff_nm?;
            (material.n_d >= HIGH_INDEX && value < UV_END_NM).then_some(Found { value, limit: UV_END_NM })
        }),
        shown: Decimals(0),
        dispenser: "High index, but it passes ultraviolet above {value} nm, short of the {limit} nm where light begins.",
        wearer: "This lens does not stop all ultraviolet: some passes above {value} nm.",
        mend: "Ask for a coating that stops ultraviolet where that matters: for much time outdoors, under a tint, after eye \
               surgery.",
        source: "the material’s list; end of ultraviolet as in ISO 13666 (from memory)",
        judged: false,
    },
    Rule {
        id: "fit.heavy",
        severity: Severity::Caution,
        applies: ToPair(|pair| {
            let value = pair.with_frame_g()?;
            (value > HEAVY_G).then_some(Found { value, limit: HEAVY_G })
        }),
        shown: Apart,
        dispenser: "Frame and lenses are {value} g; over {limit} g spectacles tend to slip and to mark the nose.",
        wearer: "With {value} g these spectacles are heavy: they may slip and press on the nose.",
        mend: "What helps is a less dense material, a smaller eye size, if its bridge fits your nose, or a bridge that rests on \
               more of it.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.heavy-lenses",
        severity: Severity::Caution,
        applies: ToPair(|pair| {
            let value = pair.mass_g();
            (pair.frame_g.is_none() && value > HEAVY_LENSES_G).then_some(Found { value, limit: HEAVY_LENSES_G })
        }),
        shown: Apart,
        dispenser: "The lenses alone are {value} g; over {limit} g most frames slip and mark the nose.",
        wearer: "The lenses alone are {value} g: the spectacles may slip and press on the nose.",
        mend: "What helps is a less dense material or a smaller eye size, if its bridge fits your nose.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.mass-unequal",
        severity: Severity::Note,
        applies: ToPair(|pair| {
            let value = (pair.eyes.right.mass_g - pair.eyes.left.mass_g).abs();
            (value > UNEQUAL_G).then_some(Found { value, limit: UNEQUAL_G })
        }),
        shown: Apart,
        dispenser: "One lens is {value} g heavier than the other; over {limit} g spectacles tend to sit askew.",
        wearer: "One lens is {value} g heavier than the other: the spectacles may sit askew.",
        mend: "What helps is a smaller eye size, if its bridge fits your nose, and pads and sides adjusted with care.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.edges-unequal",
        severity: Severity::Note,
        applies: ToPair(|pair| {
            let edge = |eye: Eye| pair.eyes.of(eye).thickness.edges.max.thickness_mm;
            let value = (edge(Eye::Right) - edge(Eye::Left)).abs();
            (value > UNEQUAL_EDGES_MM).then_some(Found { value, limit: UNEQUAL_EDGES_MM })
        }),
        shown: Apart,
        dispenser: "The thickest edges of right and left differ by {value} mm; a difference of more than {limit} mm shows.",
        wearer: "One lens is {value} mm thicker at its edge than the other, and it shows.",
        mend: "What helps is a smaller eye size, if its bridge fits your nose, a higher index or a deeper rim.",
        source: "geometry; the limit is ours, no source",
        judged: false,
    },
    Rule {
        id: "fit.bases-unequal",
        severity: Severity::Note,
        applies: ToPair(|pair| {
            let value = (pair.eyes.right.base.base_curve_d - pair.eyes.left.base.base_curve_d).abs();
            (value >= UNEQUAL_BASES_D).then_some(Found { value, limit: UNEQUAL_BASES_D })
        }),
        shown: Decimals(2),
        dispenser: "The base curves of right and left differ by {value} D: the fronts reflect differently, and the images \
                    differ in size by more than the powers make them.",
        wearer: "The fronts of the two lenses are curved differently, and it may show.",
        mend: "Ask for one base curve for both (`base_curve_d`), and weigh what that adds in thickness.",
        source: "common practice, no source; the limit of 2 D is ours",
        judged: false,
    },
    Rule {
        id: "fit.stock-thicker",
        severity: Severity::Note,
        applies: ToLens(|subject, made| {
            let plus = made.recipe.power.spherical_equivalent() > 0.0;
            let least = made.thickness.edges.min.thickness_mm;
            let (spare, needed) = (least - made.minima.kept.edge_mm, made.minima.kept.edge_mm);
            (subject.option.supply == Supply::Stock && plus && spare > 0.5)
                .then_some(Found { value: least, limit: needed })
        }),
        shown: Apart,
        dispenser: "Cut from a finished uncut its thinnest edge is {value} mm where {limit} mm would do.",
        wearer: "A lens made for this frame would be thinner than one off the shelf.",
        mend: "Surfaced to the frame it would be thinner.",
        source: "geometry",
        judged: false,
    },
];

fn below_usual(kept: f64, usual: f64) -> Option<Found> {
    (kept < usual - 1e-9).then_some(Found { value: kept, limit: usual })
}

/// An edge that stands more than this behind its rim, of usual depth where that is not known or there is none. Held
/// against the thickness at which it would.
fn beyond_rim(subject: &Subject<'_>, made: &Made, at: Vec2, most_behind_mm: f64) -> Option<Found> {
    let edge_mm = made.mounted(subject.eye, subject.outline).thickness(at)?;
    // Only the way round the whole edge tells where a bevel on the rim's own curve lies; where there is none, the usual one
    // stands for it.
    let on_the_way = || Some(made.course(subject.eye, subject.frame, subject.outline)?.at(at, None)?.wanted_mm);
    let told = subject.frame.edge.position.behind_mm(edge_mm).or_else(on_the_way);
    let behind_mm = told.or(Position::Usual.behind_mm(edge_mm))?;
    let limit = subject.frame.rim.seat(edge_mm, behind_mm, subject.frame.rim_depth_mm).rim_back_mm + most_behind_mm;
    (edge_mm > limit).then_some(Found { value: edge_mm, limit })
}

fn is_glass(subject: &Subject<'_>) -> bool {
    subject.option.substance.glass(subject.line).density > GLASS_DENSITY
}

fn listed(subject: &Subject<'_>, may: fn(&crate::material::Material) -> bool) -> bool {
    match &subject.option.substance {
        Substance::Listed(material) => may(material),
        Substance::Inline(_) => true,
    }
}
