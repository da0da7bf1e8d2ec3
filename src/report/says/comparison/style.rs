//! The look of a comparison's page. Colours are the variables of the drawings.

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
@page{margin:14mm}\
@media print{body{font-size:10pt;padding:0;max-width:none}table{font-size:7.5pt}\
.wide{overflow:visible}h2{break-after:avoid}table{break-inside:avoid}\
.boards{grid-template-columns:1fr 1fr}}";
