// How large letters are, on screens and on paper, and how full the sheets are.

import { output } from "./run.mjs";
import { check } from "./tally.mjs";

/** The smallest letters that are read without effort: CSS pixels on a screen, points on paper. House rule. */
const ON_SCREEN = 10;
const ON_PAPER = 7;

/** Texts of a page that are smaller than so many pixels as they are seen. Runs in the page. */
export function small(least) {
  const found = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.textContent.trim() || !element.checkVisibility()) continue;
    if (["TITLE", "STYLE", "DESC"].includes(element.tagName.toUpperCase())) continue;
    // Letters of a drawing may be turned.
    const drawn = element.ownerSVGElement ? element.getScreenCTM() : { a: 1, b: 0 };
    const size = parseFloat(getComputedStyle(element).fontSize) * Math.hypot(drawn.a, drawn.b);
    if (size < least - 0.01) found.push(`${size.toFixed(1)}: ${node.textContent.trim().slice(0, 40)}`);
  }
  return [...new Set(found)].slice(0, 10);
}

/** Checks that a page has no small letters at its present width. */
export async function letters(page, t, where) {
  t.equal(`letters under ${ON_SCREEN} px, ${where}`, await page.evaluate(small, ON_SCREEN), []);
}

/** The words of a PDF, page by page, with their places and sizes in points. */
async function words(file) {
  const text = await output("pdftotext", "-bbox", file, "-");
  return text.split("<page ").slice(1).map((page) => {
    const height = Number(page.match(/height="([\d.]+)"/)[1]);
    const found = [...page.matchAll(/yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">(.*?)</g)];
    return { height, words: found.map(([, top, bottom, word]) => ({ top: +top, bottom: +bottom, size: bottom - top, word })) };
  });
}

/** Headings, captions and heads of tables on a page, and the lines that parts begin with. Runs in the page. */
function landmarks() {
  const texts = (selector) =>
    [...document.querySelectorAll(selector)].map((one) => one.textContent.replace(/\s+/g, "")).filter(Boolean);
  return { heads: texts("h2, h3, caption, thead tr"), begins: texts(".kicker") };
}

/** A page as the browser printed it: no heading or head of a table last, sheets a third full. */
export async function printedSheets(page, t, file) {
  const { heads, begins } = await page.evaluate(landmarks);
  const pages = await words(file);
  const bodies = pages.map(({ height, words }) => words.filter(({ bottom }) => bottom < height - 45));
  const tight = (words) => words.map(({ word }) => word).join("");
  bodies.forEach((body, i) => {
    const lowest = Math.max(0, ...body.map(({ bottom }) => bottom));
    const last = tight(body.filter(({ bottom }) => Math.abs(bottom - lowest) < 2));
    t.holds(`page ${i + 1}`, !heads.includes(last), "no heading, caption or head of a table last", last);
    const next = bodies[i + 1];
    const ends = !next || begins.some((begin) => tight(next.slice(0, 40)).startsWith(begin.slice(0, 40)));
    if (!ends) t.holds(`page ${i + 1}`, lowest > pages[i].height / 3, "a third full", lowest);
  });
}

/** Sizes of our own PDF's headings, in points (look.rs). */
const TITLE = 17;
const HEADING = 11.5;
const near = (size, other) => Math.abs(size - other) < 0.05;

/** A PDF of our own: letters large enough, sheets full enough, no heading left behind. */
export async function sheets(name, file) {
  const pages = await words(file);
  await check(`${name}: letters of ${ON_PAPER} points at least`, ({ equal }) => {
    const found = pages.flatMap(({ words }, i) =>
      words.filter(({ size }) => size < ON_PAPER - 0.01).map(({ size, word }) => `page ${i + 1}: ${size.toFixed(2)}: ${word}`),
    );
    equal("smaller ones", found.slice(0, 10), []);
  });
  await check(`${name}: sheets are a third full, and no heading stands last`, ({ holds }) => {
    // Without the head and the foot.
    const bodies = pages.map(({ height, words }) => words.filter(({ top, bottom }) => top > 45 && bottom < height - 45));
    bodies.forEach((body, i) => {
      const next = bodies[i + 1];
      const lowest = body.reduce((low, word) => (word.bottom > low.bottom ? word : low), { bottom: 0, size: 0 });
      holds(`page ${i + 1}`, !near(lowest.size, HEADING), "no heading last", lowest.word);
      const last = !next || next.some(({ size, top }) => near(size, TITLE) && top < 120);
      if (!last) holds(`page ${i + 1}`, lowest.bottom > pages[i].height / 3, "a third full", lowest.bottom);
    });
  });
}
