//! The mistakes that have a name: what was done, as one tells it to whoever did it.

macro_rules! mistakes {
    ($($name:ident $id:literal $said:literal;)*) => {
        /// A mistake that trainees make, known by the answer it gives.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Mistake { $(#[doc = $said] $name,)* }

        impl Mistake {
            /// All of them.
            pub const ALL: &'static [Mistake] = &[$(Mistake::$name),*];

            /// Its name in JSON.
            #[must_use]
            pub fn id(self) -> &'static str {
                match self { $(Mistake::$name => $id,)* }
            }

            /// What was done, in a whole sentence or two.
            #[must_use]
            pub fn said(self) -> &'static str {
                match self { $(Mistake::$name => $said,)* }
            }
        }
    };
}

mistakes! {
    BinocularPd "binocular-pd" "The pd of both eyes was taken where one eye's is wanted.";
    DecentrationDoubled "decentration-doubled" "The decentration of both eyes together was given: it is twice that of one eye.";
    BridgeForgotten "bridge-forgotten" "The bridge was left out: the boxed centres are the eye size and the bridge apart.";
    HalfEyeSize "half-eye-size" "Half the eye size was taken for the reach, as if the lens were not decentred.";
    OtherSide "other-side" "The other side was worked: nasal and temporal reach differ by twice the decentration.";
    OtherEye "other-eye" "The other eye was worked: its pd, or the side on which its nose lies.";
    WrongWay "wrong-way" "The amount is right and the direction is the opposite one.";
    IndexForIndexMinusOne "n-for-n-minus-1" "The index n was taken where n − 1 is wanted.";
    ToolingIndex "tooling-index" "For n − 1 0.530 was taken: that is the lens measure's, not this lens's.";
    OwnIndexForClock "own-index-for-lens-measure" "The lens's own n − 1 was taken with a lens-measure reading: the lens measure is made for 1.530.";
    ReadingForPower "reading-for-power" "The lens-measure reading was taken for the power: it is that only at index 1.530.";
    CylinderSign "cylinder-sign" "The cylinder has the wrong sign.";
    AxisKept "axis-kept" "The axis was not turned by 90 degrees.";
    SphereKept "sphere-kept" "The cylinder was not added to the sphere.";
    CylinderTakenOff "cylinder-taken-off" "The cylinder was taken off the sphere, where it is added with its sign.";
    AcrossForCylinder "across-for-cylinder" "The power across the axis was written for the cylinder, which is the difference of both.";
    NotAlongOneAxis "axes-added-plainly" "Spheres and cylinders were added as if the axes were the same; one must be transposed first.";
    CmForMm "cm-for-mm" "Millimetres were taken where cm are wanted (Prentice), so that it comes out ten times too much.";
    CylinderIgnored "cylinder-ignored" "The sphere alone was taken; the cylinder counts in this meridian.";
    CylinderInFull "cylinder-in-full" "The cylinder was taken in full; along its axis it does nothing, and between it is a part.";
    SineNotSquared "sine-not-squared" "The sine was not squared.";
    CosineForSine "cosine-for-sine" "The angle was counted from the wrong meridian: cos² for sin².";
    AddedPlainly "added-plainly" "The parts were added as numbers; at right angles it is the root of the sum of squares.";
    FromTheVertical "from-the-vertical" "The angle was counted from the vertical, or its parts were exchanged.";
    SumForDifference "sum-for-difference" "Both prisms were added; with their bases the same way only the difference counts.";
    OneEyeAlone "one-eye-alone" "The prism of one eye was given; what counts is the difference of the two.";
    WrongRadius "wrong-radius" "The sag was worked with the wrong radius: that of the other surface, or of the wrong index.";
    DiameterForHalf "diameter-for-half" "The whole diameter was taken for y, which is half of it.";
    ShortForm "short-form" "The short form y²/(2r) was taken: on so deep a curve it is too small.";
    CentreForgotten "centre-forgotten" "The centre thickness was forgotten.";
    EdgeForgotten "edge-forgotten" "The edge thickness was forgotten.";
    SagTakenOff "sag-taken-off" "The sag was taken off where it is added.";
    SagsAdded "sags-added" "Both sags were added: the front's takes off from the edge of a meniscus, the back's adds to it.";
    FrontForgotten "front-forgotten" "The front curve was left out: the back must make up for it.";
    BackSign "back-sign" "The back curve has the wrong sign.";
    ThicknessForgotten "thickness-forgotten" "The thickness was left out, as in a thin lens.";
    ThicknessNotReduced "thickness-not-reduced" "The thickness was not divided by the index.";
    FrontVertexPower "front-vertex-power" "This is the front vertex power: the thickness was worked with the back's curve.";
    AllowanceForgotten "allowance-forgotten" "The allowance for edging was forgotten.";
    AllowanceOnce "allowance-once" "The allowance was added on one side only.";
    DecentrationOnce "decentration-once" "The decentration was added once; the diameter grows by twice as much.";
    HorizontalAlone "horizontal-alone" "The decentration upward was left out.";
    VertexWrongWay "vertex-wrong-way" "It was worked for a lens moved the other way.";
    VertexNotChanged "vertex-not-changed" "The power was left as it was.";
    VertexInCm "vertex-in-cm" "The distance in cm was divided by ten, not by a hundred: it is wanted in metres.";
    WholeVertex "whole-vertex" "The whole vertex distance was taken; only its change counts.";
    DiameterForRadius "diameter-for-radius" "The whole height was taken; what counts is from the top down to the optical centre.";
    RoundForFlat "round-for-flat" "Half the width was taken, as in a round segment; this segment's optical centre lies nearer to its top.";
    JumpOfRound "jump-where-none" "The centre of a full-width segment lies on the line, so nothing lies between.";
    FromTheTop "from-the-top" "The distance from the segment's top was taken; it is counted from its optical centre.";
    WholeCylinder "whole-cylinder" "The whole cylinder was added; the spherical equivalent has half of it.";
    AngleNotDoubled "angle-not-doubled" "The axes were not doubled: a cylinder is the same again after half a turn, so that its parts go by twice the axis.";
    AxisNotHalved "axis-not-halved" "The angle of the sum was not halved: it is twice the axis.";
    CylinderHalved "cylinder-halved" "The length of the vector was taken for the cylinder, which is twice that.";
    MeanForSphere "mean-for-sphere" "The spherical equivalent was written for the sphere; half the cylinder has to come off it.";
    ResidualOnce "residual-once" "The 2 of 2 × cylinder × sin was left out.";
    SineSquared "sine-squared" "The sine was squared: that is the law of the power in a meridian, not of what is left over.";
    PrismIsDegrees "prism-is-degrees" "The amount was taken for degrees: one Δ is 1 cm at 1 m, some 0.57 degrees.";
    SeparationForgotten "separation-forgotten" "The distance was left out, as if the lenses touched.";
    BackVertexPower "back-vertex-power" "This is the back vertex power: something else was asked for.";
    AsASphere "as-a-sphere" "It was worked as a sphere, without p.";
    MinusOneForIndex "n-minus-1-for-n" "This is n − 1; the index is one more.";
    RuleOfOtherSign "rule-of-other-sign" "The rule of the other sign was taken: plus adds the whole spherical equivalent to 6.00, minus half of it.";
    FactorUpsideDown "factor-upside-down" "A quotient is upside down.";
    WidthForDiagonal "width-for-diagonal" "The width was taken: the corners lie farther out than the sides.";
    RadiusForDiameter "radius-for-diameter" "The radius was given; the diameter is twice that.";
    ParametricAngle "parametric-angle" "The circles of width and depth were each taken in that direction; the outline lies elsewhere.";
    WholeAddition "whole-addition" "The whole addition was taken; two thirds of it are usual.";
    SharedBetweenEyes "shared-between-eyes" "It was shared between the eyes; each lens has all of it.";
    NotConverged "not-converged" "The pd for distance was left as it is: for near the eyes turn in.";
    FromTheLens "from-the-lens" "The triangle was begun at the lenses; the eyes turn about a point behind them.";
    InsetForPd "inset-for-pd" "This is what both lenses are inset by, not how far apart the eyes look through them.";
    MinkwitzOnce "minkwitz-once" "The factor of two was left out: sideways the astigmatism grows twice as fast as the power does downward.";
    OneSideAlone "one-side-alone" "One side of the line alone was taken; the corridor goes as far to the other.";
    Reversed "reversed" "The effect is the other way round.";
    NoEffect "no-effect" "It does make a difference.";
    WrongReason "wrong-reason" "The thinner lens is the right one, but that is not why.";
}
