//! The built-in shapes that are drawn: each a short list of control points of a closed uniform cubic B-spline (twice
//! continuously differentiable, and it never swings beyond its points).
//!
//! The points go anticlockwise as the observer facing the wearer sees the **right** lens: x to the observer's right,
//! so the nose is at +x; y up. They stand roughly in a unit box; the curve's own box is mapped exactly to ±1 before
//! use, and then to eye size × depth. To add a shape: a table here, and its row in [`DRAWN`].

/// A drawn shape.
#[derive(Debug)]
pub(super) struct Drawn {
    /// The word in job files.
    pub(super) name: &'static str,
    /// Depth over width at which it was drawn.
    pub(super) depth_ratio: f64,
    /// Control points, anticlockwise, nose at +x.
    pub(super) points: &'static [(f64, f64)],
}

/// All drawn shapes, in the order in which they are listed anywhere.
pub(super) const DRAWN: [&Drawn; 13] = [
    &PANTO,
    &CROWN_PANTO,
    &SQUARE,
    &RECTANGLE,
    &SOFT_RECTANGLE,
    &PILOT,
    &SQUARE_PILOT,
    &CAT_EYE,
    &BUTTERFLY,
    &HEXAGON,
    &OCTAGON,
    &HALF_EYE,
    &TRAPEZOID,
];

/// Panto: round below, flatter and wider at the top, narrowing toward the cheek.
const PANTO: Drawn = Drawn {
    name: "panto",
    depth_ratio: 0.88,
    points: &[
        (1.037, 0.172),
        (0.958, 0.678),
        (0.569, 0.967),
        (0.013, 1.013),
        (-0.543, 0.981),
        (-0.956, 0.714),
        (-1.032, 0.195),
        (-0.909, -0.416),
        (-0.527, -0.890),
        (-0.007, -1.057),
        (0.505, -0.881),
        (0.870, -0.384),
    ],
};

/// Crown panto: a panto whose top is cut to a flat crown with soft corners and sloping shoulders.
const CROWN_PANTO: Drawn = Drawn {
    name: "crown-panto",
    depth_ratio: 0.90,
    points: &[
        (1.021, 0.139),
        (0.990, 0.521),
        (0.780, 0.803),
        (0.609, 0.987),
        (0.283, 1.000),
        (-0.260, 1.000),
        (-0.610, 0.992),
        (-0.788, 0.811),
        (-0.994, 0.530),
        (-1.017, 0.139),
        (-0.866, -0.455),
        (-0.505, -0.894),
        (-0.008, -1.053),
        (0.489, -0.894),
        (0.858, -0.455),
    ],
};

/// Square: nearly straight sides and well-rounded corners, a little narrower below on the nasal side.
const SQUARE: Drawn = Drawn {
    name: "square",
    depth_ratio: 0.86,
    points: &[
        (1.003, -0.005),
        (1.003, 0.608),
        (0.887, 0.930),
        (0.514, 1.003),
        (-0.496, 1.003),
        (-0.885, 0.939),
        (-1.009, 0.622),
        (-0.997, -0.005),
        (-0.962, -0.595),
        (-0.819, -0.931),
        (-0.438, -1.003),
        (0.455, -1.003),
        (0.790, -0.922),
        (0.949, -0.572),
    ],
};

/// Rectangle: shallow, nearly straight sides, rounded corners, slightly narrower at the bottom.
const RECTANGLE: Drawn = Drawn {
    name: "rectangle",
    depth_ratio: 0.62,
    points: &[
        (1.004, 0.059),
        (1.004, 0.600),
        (0.871, 0.939),
        (0.478, 1.002),
        (-0.464, 1.002),
        (-0.876, 0.952),
        (-1.014, 0.625),
        (-0.994, 0.059),
        (-0.947, -0.569),
        (-0.786, -0.934),
        (-0.385, -1.003),
        (0.361, -1.003),
        (0.741, -0.921),
        (0.918, -0.538),
    ],
};

/// Soft rectangle: every side bowed and every corner wide, between the rectangle and the oval.
const SOFT_RECTANGLE: Drawn = Drawn {
    name: "soft-rectangle",
    depth_ratio: 0.72,
    points: &[
        (1.024, 0.152),
        (0.977, 0.690),
        (0.598, 0.962),
        (0.007, 1.016),
        (-0.584, 0.973),
        (-0.978, 0.717),
        (-1.017, 0.152),
        (-0.946, -0.522),
        (-0.623, -0.952),
        (-0.012, -1.028),
        (0.575, -0.935),
        (0.906, -0.501),
    ],
};

/// Pilot: a drop; top nearly straight, nasal side sloping outward below, lowest point temporal of the centre.
const PILOT: Drawn = Drawn {
    name: "pilot",
    depth_ratio: 0.86,
    points: &[
        (1.019, 0.406),
        (0.988, 0.760),
        (0.733, 0.959),
        (0.282, 0.991),
        (-0.268, 1.009),
        (-0.739, 0.959),
        (-0.994, 0.655),
        (-1.013, 0.133),
        (-0.919, -0.457),
        (-0.641, -0.911),
        (-0.170, -1.047),
        (0.309, -0.902),
        (0.650, -0.511),
        (0.894, -0.016),
    ],
};

/// Square pilot: straight top and temporal side with a squared lower temporal corner; the lower nasal corner is cut away.
const SQUARE_PILOT: Drawn = Drawn {
    name: "square-pilot",
    depth_ratio: 0.84,
    points: &[
        (1.018, 0.412),
        (0.987, 0.808),
        (0.742, 0.973),
        (0.309, 0.996),
        (-0.322, 1.006),
        (-0.815, 0.964),
        (-1.004, 0.688),
        (-1.004, 0.159),
        (-0.941, -0.439),
        (-0.803, -0.877),
        (-0.460, -1.005),
        (0.033, -1.005),
        (0.407, -0.877),
        (0.683, -0.531),
        (0.908, -0.071),
    ],
};

/// Cat-eye: upper temporal corner swept up, top edge faintly hollow, rounded below.
const CAT_EYE: Drawn = Drawn {
    name: "cat-eye",
    depth_ratio: 0.76,
    points: &[
        (1.030, 0.089),
        (0.982, 0.501),
        (0.653, 0.665),
        (0.158, 0.735),
        (-0.397, 0.933),
        (-0.833, 1.048),
        (-1.032, 0.864),
        (-0.976, 0.362),
        (-0.833, -0.308),
        (-0.576, -0.845),
        (-0.100, -1.033),
        (0.435, -0.974),
        (0.831, -0.581),
    ],
};

/// Butterfly: temporal side much deeper than the nasal side and gently swept up, as one wing of a butterfly.
const BUTTERFLY: Drawn = Drawn {
    name: "butterfly",
    depth_ratio: 0.88,
    points: &[
        (1.031, 0.174),
        (0.975, 0.628),
        (0.616, 0.825),
        (0.073, 0.912),
        (-0.491, 1.031),
        (-0.918, 0.957),
        (-1.023, 0.540),
        (-0.974, -0.078),
        (-0.862, -0.697),
        (-0.552, -1.018),
        (-0.068, -1.004),
        (0.455, -0.811),
        (0.854, -0.399),
    ],
};

/// Hexagon: six soft corners, one each toward the nose and the temple, flat at the top and bottom.
const HEXAGON: Drawn = Drawn {
    name: "hexagon",
    depth_ratio: 0.86,
    points: &[
        (1.017, -0.089),
        (1.014, 0.178),
        (0.651, 0.865),
        (0.428, 1.006),
        (-0.446, 1.006),
        (-0.666, 0.864),
        (-1.014, 0.180),
        (-1.016, -0.091),
        (-0.643, -0.862),
        (-0.425, -1.006),
        (0.408, -1.006),
        (0.627, -0.863),
    ],
};

/// Octagon: eight soft corners, with flat top, bottom and sides.
const OCTAGON: Drawn = Drawn {
    name: "octagon",
    depth_ratio: 0.90,
    points: &[
        (1.003, 0.311),
        (0.926, 0.511),
        (0.541, 0.922),
        (0.358, 1.003),
        (-0.366, 1.003),
        (-0.548, 0.921),
        (-0.927, 0.512),
        (-1.003, 0.311),
        (-1.003, -0.311),
        (-0.927, -0.512),
        (-0.548, -0.921),
        (-0.366, -1.003),
        (0.358, -1.003),
        (0.541, -0.922),
        (0.926, -0.511),
        (1.003, -0.311),
    ],
};

/// Half-eye: nearly flat top with rounded corners, half an oval below.
const HALF_EYE: Drawn = Drawn {
    name: "half-eye",
    depth_ratio: 0.50,
    points: &[
        (1.031, 0.276),
        (0.975, 0.833),
        (0.686, 1.000),
        (0.245, 1.000),
        (-0.236, 1.000),
        (-0.677, 1.000),
        (-0.974, 0.849),
        (-1.030, 0.276),
        (-0.869, -0.440),
        (-0.485, -0.926),
        (-0.007, -1.037),
        (0.478, -0.926),
        (0.855, -0.440),
    ],
};

/// Trapezoid: wider at the top than at the bottom, straight slanting sides, soft corners.
const TRAPEZOID: Drawn = Drawn {
    name: "trapezoid",
    depth_ratio: 0.80,
    points: &[
        (1.022, 0.435),
        (0.982, 0.821),
        (0.724, 0.990),
        (0.281, 1.000),
        (-0.202, 1.000),
        (-0.726, 1.000),
        (-1.007, 0.831),
        (-1.007, 0.410),
        (-0.887, -0.266),
        (-0.742, -0.798),
        (-0.484, -0.991),
        (-0.122, -1.001),
        (0.241, -1.001),
        (0.575, -0.962),
        (0.764, -0.711),
        (0.901, -0.194),
    ],
};
