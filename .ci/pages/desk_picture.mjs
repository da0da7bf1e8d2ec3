// Makes the picture of the desk in the guide, from an invented board half measured:
//   node .ci/pages/desk_picture.mjs PROGRAM specs/pictures/desk.png

import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { browser } from "./browse.mjs";
import { begin, open, SOUND, type } from "./desk.mjs";
import { find } from "./run.mjs";

const [program, picture] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "ringrule-desk-"));
const served = await open(program, folder);
const window = await browser(find("chromium", "chromium-browser", "google-chrome"));
const page = await window.newPage({ viewport: { width: 1100, height: 640 } });
await page.goto(served.address);
await begin(page, { id: "FL-33", by: "A. Ashdown" });
const { "overall diameter": _, "double width": __, ...rest } = SOUND;
await type(page, { ...rest, "treble width": ["7.74", "7.75", "7.73"] });
await page.focus('input[name="treble width||0"]');
await page.waitForTimeout(1000);
await page.evaluate(() => document.activeElement.closest("fieldset").scrollIntoView());
await page.waitForTimeout(200);
await page.screenshot({ path: picture });
await window.close();
await served.kill();
rmSync(folder, { recursive: true });
