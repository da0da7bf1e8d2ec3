// What a page is like in a browser: on screen, on paper, by keyboard.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

import { MARKUP } from "./inputs.mjs";
import { letters, printedSheets } from "./letters.mjs";
import { read } from "./read.mjs";
import { output } from "./run.mjs";
import { check } from "./tally.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const WIDE = { width: 1280, height: 800 };
const MIDDLE = { width: 768, height: 800 };
const NARROW = { width: 390, height: 800 };
/**
 * Parts that are printed and audited, which is slow: the summary, and each demo
 * board once. Boards after those are the same again with other marks.
 */
const KEPT = 15;
/** Paper, in points and, between the margins of 14 mm, in CSS pixels. */
const PAPERS = [
  { format: "A4", width: 595.3, height: 841.9, between: Math.floor(((210 - 28) / 25.4) * 96) },
  { format: "Letter", width: 612, height: 792, between: Math.floor((8.5 - 28 / 25.4) * 96) },
];

/** The browser of the machine. As root it cannot put itself into a sandbox. */
export function browser(executablePath) {
  const args = ["--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars"];
  if (process.getuid?.() === 0) args.push("--no-sandbox");
  return chromium.launch({ executablePath, args });
}

/** All checks of a page; what `read` finds on it. */
export async function browse(browser, { name, html }) {
  const url = pathToFileURL(html).href;
  const context = await browser.newContext({ viewport: WIDE, colorScheme: "light" });
  const page = await context.newPage();
  const heard = [];
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) heard.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => heard.push(`error: ${error}`));
  page.on("dialog", (dialog) => {
    heard.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on("request", (request) => {
    if (request.url() !== url) heard.push(`request: ${request.url()}`);
  });
  // Idle alone is not enough: a long page from a file can be idle before it is whole.
  await page.goto(url, { waitUntil: "load" });
  await page.waitForLoadState("networkidle");
  const parts = await page.evaluate(read);

  await check(`${name}: loads in silence, and from nowhere else`, async ({ equal }) => {
    equal("after loading", heard, []);
    const active = "script, img, iframe, object, embed, link, base, form, style ~ style";
    equal("active elements", await page.locator(active).count(), 0);
    equal(
      "handlers",
      await page.evaluate(() =>
        [...document.querySelectorAll("*")].flatMap((element) =>
          [...element.attributes].map(({ name }) => name).filter((name) => name.startsWith("on")),
        ),
      ),
      [],
    );
  });
  await check(`${name}: says the same without JavaScript`, async ({ equal, holds }) => {
    const text = () => document.body.innerText;
    const scripted = await page.evaluate(text);
    const bare = await browser.newContext({ viewport: WIDE, javaScriptEnabled: false });
    const still = await bare.newPage();
    await still.goto(url, { waitUntil: "load" });
    equal("text", await still.locator("body").innerText(), scripted);
    await bare.close();
    holds("length", scripted.length > 500, "a page of text", scripted);
    const hidden = /[\u200b-\u200f\u202a-\u202e\u2060-\u206f]/u;
    equal("characters that hide or reorder text", scripted.match(hidden), null);
    if (name === "hostile") holds("markup as text", scripted.includes(MARKUP), MARKUP, parts[0]?.title);
  });
  await focus(page, name);
  await overflow(page, name);
  await page.evaluate(shorten, KEPT);
  await printed(page, name, html, parts);
  await axe(page, name);
  await context.close();
  return parts;
}

/** Takes away the parts after the first so many. */
function shorten(kept) {
  for (const part of [...document.querySelectorAll("article.part")].slice(kept)) part.remove();
}

/** A band's figures show while it has the focus, or the pointer is on it. */
async function focus(page, name) {
  if (["worksheet", "compare", "areas", "short", "history", "leg", "lot"].includes(name)) return;
  await check(`${name}: figures of bands show on focus and under the pointer`, async (t) => {
    const found = await page.evaluate(() => {
      const shown = (band) => getComputedStyle(band.querySelector(".figures")).visibility;
      return [...document.querySelectorAll("figure.boards svg:has(g.band)")].map((drawing) =>
        [...drawing.querySelectorAll("g.band[tabindex='0']")]
          .filter((band) => band.querySelector(".figures"))
          .map((band) => {
            const before = shown(band);
            band.focus();
            const seen = { label: band.getAttribute("aria-label"), before, focused: shown(band) };
            band.blur();
            return { ...seen, after: shown(band) };
          }),
      );
    });
    for (const drawing of found) {
      t.holds("bands of a drawing", drawing.length > 0, "some that can have the focus", drawing);
      for (const { label, ...states } of drawing) {
        t.equal(label, states, { before: "hidden", focused: "visible", after: "hidden" });
      }
    }
    // One place on each band of the first drawing, looked for from its middle outwards.
    await page.locator("figure.boards svg").first().scrollIntoViewIfNeeded();
    const places = await page.evaluate(() => {
      const drawing = document.querySelector("figure.boards svg");
      const { left, top, width, height } = drawing.getBoundingClientRect();
      const seen = new Map();
      const bands = [...drawing.querySelectorAll("g.band")];
      for (let y = 0; y < height; y += 1) {
        const [px, py] = [left + width / 2 + 2, top + y];
        const band = document.elementFromPoint(px, py)?.closest("g.band");
        if (band?.querySelector(".figures") && !seen.has(band)) seen.set(band, [px, py]);
      }
      return [...seen].map(([band, place]) => [bands.indexOf(band), place]);
    });
    t.equal("bands that the pointer reaches", places.length, found[0]?.length);
    for (const [index, place] of places) {
      await page.mouse.move(...place);
      const state = await page.evaluate((index) => {
        const band = document.querySelectorAll("figure.boards svg g.band")[index];
        return getComputedStyle(band.querySelector(".figures")).visibility;
      }, index);
      t.equal(`band ${index} under the pointer`, state, "visible");
    }
    await page.mouse.move(0, 0);
  });
}

/** Elements that reach beyond the right or left edge, and are not in a box that scrolls. */
function beyond(width) {
  const scrolls = (element) => {
    for (let box = element.parentElement; box; box = box.parentElement) {
      if (["auto", "scroll"].includes(getComputedStyle(box).overflowX)) return true;
    }
    return false;
  };
  return [...document.body.querySelectorAll("*")]
    .filter((element) => !element.ownerSVGElement)
    .filter((element) => {
      const { left, right } = element.getBoundingClientRect();
      return (right > width + 1 || left < -1) && !scrolls(element);
    })
    .map((element) => `${element.localName}.${element.className?.baseVal ?? element.className} ${element.textContent.slice(0, 40)}`);
}

async function overflow(page, name) {
  await check(`${name}: nothing wider than screen or sheet, no small letters`, async (t) => {
    const { equal, holds } = t;
    for (const viewport of [WIDE, MIDDLE, NARROW]) {
      await page.setViewportSize(viewport);
      const [scroll, client] = await page.evaluate(() => [
        document.documentElement.scrollWidth,
        document.documentElement.clientWidth,
      ]);
      holds(`${viewport.width} px wide`, scroll <= client, `at most ${client}`, scroll);
      equal(`${viewport.width} px wide`, await page.evaluate(beyond, viewport.width), []);
      await letters(page, t, `${viewport.width} px wide`);
    }
    await page.emulateMedia({ media: "print" });
    for (const { format, between } of PAPERS) {
      await page.setViewportSize({ width: between, height: 1000 });
      equal(`on ${format}`, await page.evaluate(beyond, between), []);
    }
    // Not "screen", which would then be printed too.
    await page.emulateMedia({ media: null });
    await page.setViewportSize(WIDE);
  });
}

/** The page as the browser prints it. */
async function printed(page, name, html, parts) {
  for (const { format, width, height } of PAPERS) {
    await check(`${name}: prints on ${format}`, async (t) => {
      const { equal, holds } = t;
      const path = html.replace(/\.html$/, `-printed-${format}.pdf`);
      await page.pdf({ path, format, preferCSSPageSize: true, printBackground: true });
      const sizes = [...(await output("pdfinfo", "-f", "1", "-l", "-1", path)).matchAll(/size:\s+([\d.]+) x ([\d.]+)/g)];
      const text = await output("pdftotext", "-layout", path, "-");
      const pages = text.split("\f").slice(0, -1);
      equal("pages with a size", sizes.length, pages.length);
      sizes.forEach(([, w, h], i) =>
        // Either way up: a page may ask for that, but not for another paper.
        holds(
          `page ${i + 1}`,
          [[w, h], [h, w]].some(([w, h]) => Math.abs(w - width) < 2 && Math.abs(h - height) < 2),
          [width, height],
          [w, h],
        ),
      );
      pages.forEach((page, i) => {
        // The foot alone does not make a page.
        const words = page.replace(/page \d+ of \d+/, "").trim();
        holds(`page ${i + 1}`, words.length > 0, "something on it", "an empty page");
      });
      await printedSheets(page, t, path);
      if (name !== "event") return;
      // The table of boards comes before the first signature.
      const end = pages.findIndex((page) => page.includes("Authorisation"));
      const rows = pages.slice(0, end + 1).filter((page) => /^\s*X-\d\d\s/m.test(page));
      holds("pages with the table of boards", rows.length > 0, "at least one", rows.length);
      rows.forEach((page, i) =>
        holds(`page ${i + 1} of the table of boards`, /board\s+where it hangs\s+verdict/.test(page), "its headings", page.slice(0, 300)),
      );
    });
  }
}

async function axe(page, name) {
  // What stands in an image is not read out, so that it must not get the focus
  // either. The rule of axe for this does not look into drawings.
  await check(`${name}: nothing in an image can have the focus`, async ({ equal }) => {
    const inside = page.locator("[role=img] :is(a, button, input, [tabindex])");
    const labels = await inside.evaluateAll((all) => all.map((one) => one.getAttribute("aria-label")));
    equal("elements within role=img", labels, []);
  });
  await page.evaluate(AXE);
  for (const [how, colorScheme, viewport] of [
    ["light", "light", WIDE],
    ["dark", "dark", WIDE],
    ["middle", "light", MIDDLE],
    ["middle, dark", "dark", MIDDLE],
    ["narrow", "light", NARROW],
    ["narrow, dark", "dark", NARROW],
  ]) {
    await check(`${name}: no accessibility violations, ${how}`, async ({ holds, fail }) => {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize(viewport);
      const { violations, passes } = await page.evaluate(async () => {
        const only = ["violations", "passes"];
        const { violations, passes } = await globalThis.axe.run({ resultTypes: only });
        return {
          passes: passes.length,
          violations: violations.map(({ id, help, nodes }) => ({
            id,
            help,
            count: nodes.length,
            node: nodes[0].html.slice(0, 200),
            why: nodes[0].failureSummary.replace(/\s+/g, " "),
          })),
        };
      });
      holds("rules that pass", passes > 10, "more than 10", passes);
      for (const { id, help, count, node, why } of violations) {
        fail(`axe rule ${id}`, help, `${count} × such as ${node}: ${why}`);
      }
    });
  }
}
