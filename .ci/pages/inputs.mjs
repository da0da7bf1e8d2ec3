// The boards that are reported on, and the files that the program makes of them.

import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

import { output, run } from "./run.mjs";

const DEMO = "specs/demo";
const EVENT = "specs/events/fenwick-lane-autumn.yaml";
const WDF = "tolerances/wdf.yaml";
const LEAGUE = "tolerances/fenwick-lane.yaml";
const PLACES = "tolerances/fenwick-lane-places.yaml";
const MANY = 40;

/** Texts of the hostile board, for who looks for them in the output. */
export const LATIN = "Gasthaus Fröhlich, Łódź";
export const GREEK = "Βελάκια";
export const HEBREW = "חץ";
export const CJK = "飛鏢";
export const MARKUP = "<script>alert(1)</script>";

// Escapes, so that neither this file nor the board reorders what a reader sees.
const HOSTILE = {
  name:
    `${MARKUP} "><img src=x onerror=alert(2)> ${LATIN} ${GREEK} ${HEBREW} ${CJK} ` +
    `\u202Eesrever\u202C &amp; ' \` ]]> --> ${"Long-name ".repeat(20)}${"W".repeat(120)}`,
  maker: `"><svg onload=alert(3)> ${HEBREW} </title><style>*{display:none}</style> javascript:alert(4)`,
  serial: "' onfocus='alert(5)' x='",
  note: `</p></article></main><iframe src=//example.org></iframe> ${MARKUP} url(https://example.org/a.png) \u2066isolate\u2069`,
};

const quoted = (text) =>
  `"${text
    .replace(/[\\"]/g, "\\$&")
    .replace(/[\u2000-\u20ff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`)}"`;

function hostile(folder) {
  const text = readFileSync(join(DEMO, "03-narrow-treble.yaml"), "utf8");
  const { name, maker, serial, note } = HOSTILE;
  const board = `board:
  id: "H<1>"
  name: ${quoted(name)}
  maker: ${quoted(maker)}
  serial: ${quoted(serial)}
  note: ${quoted(note)}
`;
  const file = join(folder, "hostile.yaml");
  writeFileSync(file, text.replace(/^board: \{.*\}\n/m, () => board));
  return file;
}

/** Variants of the demo boards, X-01 to X-40. */
function many(folder) {
  const boards = join(folder, "many");
  mkdirSync(boards);
  const demos = readdirSync(DEMO).filter((name) => /^\d.*\.yaml$/.test(name)).sort();
  for (let index = 0; index < MANY; index += 1) {
    const id = `X-${String(index + 1).padStart(2, "0")}`;
    const text = readFileSync(join(DEMO, demos[index % demos.length]), "utf8");
    const own = text.replace(/\bid: FL-\d+/, `id: ${id}`);
    if (own === text) throw new Error(`${demos[index % demos.length]} has no mark to change`);
    writeFileSync(join(boards, `${id}.yaml`), own);
  }
  return boards;
}

/** The pages of the invented production run, of which the boards are made first. */
async function lot(program, at) {
  await output(program, "intake", "specs/lot/run.csv", "--into", at("lot"), "-t", WDF);
  // The run drifts, which is exit code 1.
  await run(program, "lot", at("lot"), "-t", WDF, "-o", at("lot.html"), "--also", at("lot.pdf"));
}

/**
 * Every report, in two runs, and the other pages. A report is
 * `{ name, html, json, md, pdf, letter, again: [[file, file of the second run], …] }`.
 */
export async function make(program, folder) {
  const cases = [
    ["conforming", [`${DEMO}/01-round-to-rule.yaml`], WDF],
    ["failing", [`${DEMO}/03-narrow-treble.yaml`], WDF],
    ["inconclusive", [`${DEMO}/10-close-to-the-limit.yaml`], LEAGUE],
    ["half-measured", [`${DEMO}/08-half-measured.yaml`], WDF],
    ["off-centre", [`${DEMO}/13-off-centre-treble.yaml`], PLACES],
    ["uneven", [`${DEMO}/14-uneven-treble.yaml`], PLACES],
    ["digitised", [`${DEMO}/15-digitised.yaml`], PLACES],
    ["hostile", [hostile(folder)], WDF],
    ["event", [many(folder)], WDF, "--event", EVENT],
  ];
  const reports = cases.map(async ([name, boards, table, ...more]) => {
    const report = (...rest) => output(program, "report", ...boards, "-t", table, "--detail", "full", ...more, ...rest);
    const file = (ending) => join(folder, `${name}${ending}`);
    const endings = [".html", ".json", ".md", ".pdf"];
    const again = endings.map((ending) => [file(ending), file(`-again${ending}`)]);
    await Promise.all([
      report(...again.flatMap(([first]) => ["-o", first])),
      report(...again.flatMap(([, second]) => ["-o", second])),
      report("--paper", "letter", "-o", file("-letter.pdf")),
    ]);
    const [html, json, md, pdf] = endings.map(file);
    return { name, table, html, json, md, pdf, letter: file("-letter.pdf"), again };
  });

  const at = (name) => join(folder, name);
  const strip = `${DEMO}/02-strip-to-rule.yaml`;
  const others = [
    output(program, "compare", at("hostile.yaml"), strip, "--average", "60", "--format", "html", "-o", at("compare.html"), "--also", at("compare.pdf")),
    output(program, "compare", at("hostile.yaml"), "--ratio", "treble=1.16±0.01", "--ratio", "double=1.14", "-o", at("areas.html"), "--also", at("areas.pdf")),
    output(program, "worksheet", at("hostile.yaml"), "-t", WDF, "--format", "html", "-o", at("worksheet.html")),
    output(program, "worksheet", at("hostile.yaml"), "-t", WDF, "-o", at("worksheet.pdf")),
    output(program, "report", DEMO, "-t", WDF, "--event", EVENT, ...["html", "pdf", "json"].flatMap((ending) => ["-o", at(`boards.${ending}`)])),
    output(program, "report", DEMO, "-t", WDF, "--event", EVENT, "--detail", "summary", "-o", at("short.html"), "-o", at("short.pdf")),
    // The last day on which every inspection of the season is valid.
    output(program, "history", "specs/season", "--on", "2026-10-04", "-o", at("history.html"), "--also", at("history.pdf")),
    output(program, "leg", strip, at("hostile.yaml"), "--start", "101", "--against", "14", "--average", "40,60", "-o", at("leg.html"), "--also", at("leg.pdf")),
    lot(program, at),
    output(program, "draw", `${DEMO}/03-narrow-treble.yaml`, "-t", WDF, "-o", at("drawing.svg")),
    output(program, "draw", at("hostile.yaml"), "-t", WDF, "-o", at("hostile.svg")),
  ];
  await Promise.all([...reports, ...others]);
  return {
    reports: await Promise.all(reports),
    others: ["compare", "areas", "worksheet", "boards", "short", "history", "leg", "lot"].map((name) => ({ name, html: at(`${name}.html`) })),
    drawings: [at("drawing.svg"), at("hostile.svg")],
  };
}
