// The list that a long page begins with, the choice of what it shows, and the bookmarks
// of the PDF: all by venue, as the JSON has them.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

import { output } from "./run.mjs";
import { check } from "./tally.mjs";

const NOWHERE = "boards without a venue";

/** Boards by venue in the order of the JSON: `[[venue, [id, …]], …]`. */
function venues(json) {
  const found = new Map();
  for (const { id, venue = NOWHERE } of json.boards) found.set(venue, [...(found.get(venue) ?? []), id]);
  return [...found];
}

const id = (title) => title.split(",")[0];

export async function contents(browser, folder) {
  const json = JSON.parse(readFileSync(`${folder}/boards.json`, "utf8"));
  const context = await browser.newContext({ viewport: { width: 390, height: 800 }, javaScriptEnabled: true });
  const page = await context.newPage();
  await page.goto(pathToFileURL(`${folder}/boards.html`).href, { waitUntil: "load" });

  await check("boards: the list to jump by is by venue, and leads to each board", async ({ equal }) => {
    await page.locator(".contents summary").click();
    const listed = await page.locator(".contents section").evaluateAll((all) =>
      all.map((one) => [one.querySelector("h2").textContent, [...one.querySelectorAll("a")].map((a) => a.textContent)]),
    );
    equal("list", listed.map(([venue, titles]) => [venue, titles.map(id)]), venues(json));
    await page.locator(".contents a").last().click();
    const target = await page.locator(":target h2").textContent();
    equal("last link", id(target), venues(json).at(-1)[1].at(-1));
  });
  await check("boards: a choice of a verdict shows its boards alone, and paper shows all", async ({ equal }) => {
    const shown = () => page.locator("article[data-mark]").evaluateAll((all) => all.filter((one) => one.checkVisibility()).length);
    for (const [choice, verdict] of [["bad", "does-not-conform"], ["open", "inconclusive"], ["good", "conforms"]]) {
      await page.locator(`#only-${choice}`).check();
      equal(verdict, await shown(), json.boards.filter((board) => board.verdict === verdict).length);
    }
    await page.emulateMedia({ media: "print" });
    equal("on paper", await shown(), json.boards.length);
  });
  await context.close();

  await check("boards, PDF: bookmarks by venue", async ({ equal }) => {
    const { outlines } = JSON.parse(await output("qpdf", "--json", "--json-key=outlines", `${folder}/boards.pdf`));
    equal("bookmarks", outlines.slice(1).map(({ title, kids }) => [title, kids.map((kid) => id(kid.title))]), venues(json));
  });
}
