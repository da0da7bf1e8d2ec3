// Checks the pages and PDFs that a built program writes, as a reader gets them:
//   node .ci/pages/check.mjs target/debug/ringrule
// from the top folder. `.ci/pages/run` gets first whatever this needs.

import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

import { browse, browser } from "./browse.mjs";
import { contents } from "./contents.mjs";
import { desk } from "./desk.mjs";
import { make } from "./inputs.mjs";
import { markup } from "./markup.mjs";
import { numbers } from "./numbers.mjs";
import { others as pdfs, pdf } from "./pdf.mjs";
import { pictures } from "./pictures.mjs";
import { find } from "./run.mjs";
import { pages } from "./short.mjs";
import { check, close } from "./tally.mjs";

const [program] = process.argv.slice(2);
const executable = find("chromium", "chromium-browser", "google-chrome");
if (!program || !executable) {
  console.error("usage: node .ci/pages/check.mjs PROGRAM, with chromium on the path");
  process.exit(2);
}

const folder = mkdtempSync(join(tmpdir(), "ringrule-pages-"));
const window = await browser(executable);
try {
  const { reports, others, drawings } = await make(resolve(program), folder);

  for (const { name, again } of reports) {
    await check(`${name}: the same bytes twice`, ({ holds }) => {
      for (const [first, second] of again) {
        holds(first, readFileSync(first).equals(readFileSync(second)), "the bytes of the first run", "others");
      }
    });
  }

  // The markup, the long page of the event, and all other pages, side by side.
  const files = [...reports, ...others].map(({ html }) => html).concat(drawings);
  const valid = markup(files);
  const read = async (report) => {
    const parts = await browse(window, report);
    await numbers(report, parts);
    await pdf(report, parts);
  };
  const rest = async () => {
    for (const report of reports.slice(0, -1)) await read(report);
    for (const page of others) {
      const parts = await browse(window, page);
      if (page.name !== "boards") continue;
      await pages(page.name, JSON.parse(readFileSync(join(folder, "boards.json"), "utf8")), parts);
    }
    await pdfs(folder);
    await pictures(folder);
    await contents(window, folder);
    await desk(window, resolve(program), folder);
  };
  await Promise.all([valid, read(reports.at(-1)), rest()]);
} finally {
  await window.close();
  rmSync(folder, { recursive: true, force: true });
}
process.exitCode = close() ? 0 : 1;
