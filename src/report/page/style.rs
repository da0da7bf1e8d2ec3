//! The look of a report's page. Colours are the variables of the drawings, so
//! that light, dark and print differ in one place.

/// Sober, made to be printed: serif headings, a double rule, no colour that says
/// anything that a word does not say too.
pub(super) const PAGE: &str = "\
body{background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,'DejaVu Sans',sans-serif;\
margin:0 auto;padding:1.5rem;max-width:60rem}\
h1,h2,h3{font-family:Georgia,'DejaVu Serif','Times New Roman',serif;line-height:1.25;\
overflow-wrap:anywhere;text-wrap:balance}\
h1{font-size:1.2rem;font-weight:400;margin:0;padding-bottom:.4rem;border-bottom:3px double var(--ink)}\
h2{font-size:1.7rem;margin:.1rem 0 .8rem}\
h3{font-size:1.1rem;margin:1.8rem 0 .4rem}\
.part{margin-bottom:4rem}.part+.part{border-top:3px double var(--ink);padding-top:1rem}\
.kicker{font-size:.85rem;margin:1.2rem 0 0;overflow-wrap:anywhere}\
p,li,dd{overflow-wrap:anywhere}p{max-width:46rem}\
ul{padding-left:1.2rem;max-width:46rem}\
a{color:inherit}\
:focus-visible{outline:3px solid var(--ink);outline-offset:2px}\
.verdict{border:2px solid var(--ink);padding:.6rem .9rem;max-width:none}\
.verdict strong{font-size:1.25rem;display:block}\
.verdict.bad{border-width:5px}.verdict.open,.verdict.unchecked{border-style:dashed}\
.mark{white-space:nowrap}.mark.bad{font-weight:700}\
.mark>span{display:inline-block;width:1.1em;text-align:center}\
.facts,.signature{margin:.4rem 0;font-size:.92rem}\
.facts>div,.signature>div{display:grid;grid-template-columns:11rem 1fr;gap:.8rem;\
padding:.16rem 0;border-bottom:1px solid var(--line);break-inside:avoid}\
dt{font-weight:600}dd{margin:0}.absent{font-style:italic}\
.signature>div{border:0;padding:.5rem 0;align-items:end}\
pre{overflow-x:auto;font-size:.85rem}.note{font-size:.9rem}\
.beside{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(20rem,100%),1fr));gap:1rem}\
.beside figure{margin:.4rem 0}\
.room{border:1px solid var(--ink);min-width:3.4rem;height:2rem}th.room{text-align:center}\
.blank{display:block;border-bottom:1px solid var(--ink);height:2rem;max-width:22rem}\
.wide{overflow-x:auto;margin:.4rem 0}\
table{border-collapse:collapse;width:100%;font-size:.85rem;line-height:1.35;\
font-variant-numeric:tabular-nums}\
caption{text-align:left;font-style:italic;padding:.2rem 0 .4rem}\
th,td{padding:.25rem .4rem;border-bottom:1px solid var(--line);text-align:left;vertical-align:top}\
thead th{border-bottom:2px solid var(--ink);vertical-align:bottom}\
.figure{text-align:right}td.figure{white-space:nowrap}td.word{white-space:nowrap}\
th.word{text-align:left}tbody th{font-weight:600}\
tr{break-inside:avoid}thead{display:table-header-group}\
figure{margin:1.4rem 0;break-inside:avoid}\
figure svg{width:100%;max-width:44rem;height:auto;display:block;margin:0 auto}\
figcaption{font-size:.85rem;margin-top:.4rem}\
.cautions{border-left:4px solid var(--ink);padding:.2rem 1rem .2rem 1.8rem;margin:1.6rem 0 0;\
font-size:.9rem;break-inside:avoid}\
@media (max-width:40rem){.facts>div,.signature>div{grid-template-columns:1fr;gap:0}}\
@page{margin:16mm 14mm 18mm;@bottom-right{content:'page ' counter(page) ' of ' counter(pages);\
font:8pt sans-serif}}\
@media print{body{font-size:9.5pt;padding:0;max-width:none}.wide{overflow:visible}\
table{font-size:7.8pt}th,td{padding:.15rem .25rem}h3{break-after:avoid}\
.part{margin:0;break-before:page}h1+.part{break-before:auto}.part+.part{border:0;padding:0}\
figure svg{max-height:150mm}.beside{grid-template-columns:1fr 1fr}p,li{orphans:3;widows:3}}";
