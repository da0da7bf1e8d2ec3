//! Colours and type of drawings, and of the pages that they stand in. Light and
//! dark differ in the variables alone; print is always light.

/// Variables and the classes of drawings; part of the page and of every SVG
/// file.
pub(in crate::report) const DRAWING: &str = "\
:root{--paper:#fcfbf7;--ink:#1c1b19;--line:#b9b4a8;--bed:#fcfbf7;--bed2:#e9e5da;--wire:#6b675f;\
--hatch:#1c1b19;--s0:#f4f1e8;--s1:#dfe3dc;--s2:#c1d0cd;--s3:#9cb8bb;--s4:#759da8;--s5:#4f7f93;\
--s6:#31607b;--s7:#1b4260;--s8:#0d2542}\
@media (prefers-color-scheme:dark){:root{--paper:#15171a;--ink:#ece9e1;--line:#4c4f52;\
--bed:#24272b;--bed2:#31353a;--wire:#a09c92;--hatch:#ece9e1;--s0:#1d2126;--s1:#22303a;--s2:#28414e;\
--s3:#315564;--s4:#41707c;--s5:#5c8c93;--s6:#83a9aa;--s7:#b1c7c2;--s8:#e3e8dc}}\
@media print{:root{--paper:#fff;--ink:#000;--line:#999;--bed:#fff;--bed2:#ececec;--wire:#555;\
--hatch:#000;--s0:#f7f5ee;--s1:#dfe3dc;--s2:#c1d0cd;--s3:#9cb8bb;--s4:#759da8;--s5:#4f7f93;\
--s6:#31607b;--s7:#1b4260;--s8:#0d2542}}\
svg text{font-family:system-ui,sans-serif;fill:var(--ink);font-variant-numeric:tabular-nums}\
.halo{paint-order:stroke;stroke:var(--paper);stroke-linejoin:round}\
.axis{stroke:var(--ink);stroke-width:1;fill:none}.grid{stroke:var(--line);stroke-width:.5;fill:none}\
.curve{stroke:var(--ink);fill:none;stroke-width:1.8}\
.mark{fill:var(--paper);stroke:var(--ink);stroke-width:1.3}\
.lead{stroke:var(--ink);stroke-width:.6;fill:none}";
