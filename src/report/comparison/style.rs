//! Colours and type of the page and its drawings. Light and dark differ in the
//! variables alone; print is always light.

/// The page's own look.
pub(super) const PAGE: &str = "\
body{background:var(--paper);color:var(--ink);font:16px/1.5 Georgia,'Times New Roman',serif;\
margin:0 auto;padding:1.5rem;max-width:60rem}\
h1{font-size:1.6rem;line-height:1.25;border-bottom:3px double var(--ink);padding-bottom:.4rem}\
h2{font-size:1.15rem;margin:2rem 0 .5rem}\
ul{padding-left:1.2rem}\
.given{border-left:4px solid var(--ink);padding:.2rem 1rem;margin:1rem 0}\
.wide{overflow-x:auto}\
table{border-collapse:collapse;width:100%;font:.85rem/1.35 system-ui,sans-serif;\
font-variant-numeric:tabular-nums;margin:.6rem 0}\
caption{text-align:left;font-style:italic;padding:.2rem 0}\
th,td{padding:.22rem .45rem;border-bottom:1px solid var(--line);text-align:right;vertical-align:top}\
thead th{border-bottom:2px solid var(--ink);vertical-align:bottom}\
th:first-child{text-align:left}tbody th{font-weight:600}\
figure{margin:1.2rem 0;break-inside:avoid}\
figure svg{width:100%;height:auto;display:block}\
figcaption{font-size:.9rem;margin-top:.3rem}\
.boards{display:grid;grid-template-columns:repeat(auto-fit,minmax(20rem,1fr));gap:1rem}\
.note,footer{font-size:.9rem}\
@page{size:A4;margin:14mm}\
@media print{body{font-size:10pt;padding:0;max-width:none}table{font-size:7.5pt}\
.wide{overflow:visible}h2{break-after:avoid}table{break-inside:avoid}\
.boards{grid-template-columns:1fr 1fr}}";

/// Variables and the classes of drawings; part of the page and of every SVG
/// file.
pub(super) const DRAWING: &str = "\
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
