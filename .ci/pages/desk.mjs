// The desk as somebody at a board has it: by keyboard alone, on a telephone, without
// scripts, by two people, and with what must not be let in.

import { spawn } from "node:child_process";
import { cpSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

import { run } from "./run.mjs";
import { check } from "./tally.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
/** Readings of a board to rule, invented; the table's own nominal lengths. */
export const SOUND = {
  "ring wires": ["16 SWG"],
  "sector wires": ["16 SWG"],
  "inner_bull diameter": ["12,70", "12.69", "12.71"],
  "outer_bull diameter": ["31.8", "31,79", "31.81"],
  "treble_outer radius": ["107.0", "107.01", "106.99"],
  "double_outer radius": ["170.0", "170.01", "169.99"],
  "treble width": ["8.0", "8.01", "0.315 in"],
  "double width": ["8.0", "8,01", "7.99"],
  "overall diameter": ["451", "451.01", "450.99"],
};

/** A desk on a folder, and how to end it. */
export async function open(program, folder, ...more) {
  const child = spawn(program, ["desk", folder, "--no-browser", ...more]);
  const address = await new Promise((go, stop) => {
    child.stdout.once("data", (bytes) => go(String(bytes).split("\n")[0].trim()));
    child.once("exit", (code) => stop(new Error(`the desk ended with ${code}`)));
  });
  const ended = new Promise((go) => child.once("exit", go));
  return {
    address,
    origin: new URL(address).origin,
    kill: async (signal = "SIGINT") => {
      child.kill(signal);
      await ended;
    },
  };
}

/** A browser's window that hears everything that should not be. */
async function window(browser, { width, scripts = true, colorScheme = "light" }, origin) {
  const context = await browser.newContext({
    viewport: { width, height: 800 },
    javaScriptEnabled: scripts,
    colorScheme,
  });
  const page = await context.newPage();
  const heard = [];
  page.on("console", (message) => heard.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => heard.push(`error: ${error}`));
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(`${origin}/`) && !url.startsWith("data:")) heard.push(`request: ${url}`);
  });
  return { page, heard, context };
}

/** What is seen of a page: nothing that axe minds, and nothing beyond its width. */
async function sound(page, { equal, holds }, where) {
  const beyond = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
  holds(`${where}: nothing beyond the width`, beyond <= 0, 0, beyond);
  const said = await page.evaluate(async (axe) => {
    if (!globalThis.axe) new Function(axe)();
    const { violations } = await globalThis.axe.run(document);
    return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 120)}`);
  }, AXE).catch(() => undefined);
  // A policy that forbids everything from elsewhere may forbid the audit too.
  if (said) equal(`${where}: accessible`, said, []);
}

/** Adds a board and begins, by keyboard alone. */
export async function begin(page, { id, by, first = true }) {
  if (first) {
    await page.getByText("New board").focus();
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/new/);
    await page.focus("#id");
    await page.keyboard.type(id);
    await page.keyboard.press("Enter");
  } else {
    await page.getByRole("button", { name: `Measure ${id}` }).focus();
    await page.keyboard.press("Enter");
  }
  await page.waitForURL(/\/begin/);
  await page.fill("#by", "");
  await page.focus("#by");
  await page.keyboard.type(by);
  for (const [field, text] of [["instrument", `calliper of ${by}`], ["resolution", "0.01"], ["max_error", "0,03"]]) {
    await page.fill(`#${field}`, "");
    await page.focus(`#${field}`);
    await page.keyboard.type(text);
  }
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/measure/);
}

/** Types readings as a calliper with a cable does: digits, then Enter. */
export async function type(page, readings) {
  for (let nth = 0; nth < 100; nth += 1) {
    const name = await page.evaluate(() => document.activeElement.name ?? "");
    const [item, , number] = name.split("|");
    if (!number) return;
    await page.keyboard.type(readings[item]?.[Number(number)] ?? "");
    await page.keyboard.press("Enter");
  }
}

/** Until everything that was typed is kept. */
async function kept(page) {
  await page.waitForFunction(() => !document.querySelector(".field.waiting"), undefined, { timeout: 20_000 });
}

const standing = (page) => page.$eval("#standing", (element) => element.innerText);
const remark = (page, name) =>
  page.$eval(`input[name="${name}"]`, (input) => input.closest(".field").querySelector(".said").innerText);

async function save(page) {
  await page.locator("aside .button").focus();
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/save/);
  await page.locator("form[action='/save'] button").focus();
  await page.keyboard.press("Enter");
  await page.waitForSelector("text=Saved as");
}

const drafts = (folder) => {
  const all = readdirSync(join(folder, ".desk"), { recursive: true }).map(String);
  return all.filter((name) => name.endsWith(".csv")).map((name) => join(folder, ".desk", name));
};

const verdict = async (program, file) => {
  const { out } = await run(program, "validate", file, "--table", "wdf", "--format", "json");
  const [board] = JSON.parse(out).boards;
  return { verdict: board.verdict, limits: board.limits.map((limit) => limit.value_mm ?? null) };
};

export async function desk(browser, program, top) {
  const folder = join(top, "desk");
  mkdirSync(folder);
  cpSync("specs/demo/03-narrow-treble.yaml", join(folder, "fl-03.yaml"));
  writeFileSync(join(folder, "broken.yaml"), "format: ringrule/board/1\nboard: { id: <b>X</b> }\n");
  const served = await open(program, folder);
  const { origin } = served;
  try {
    for (const [width, id] of [[1280, "FL-70"], [390, "FL-71"]]) {
      await check(`desk: a whole board by keyboard alone at ${width} px`, async (t) => {
        const { page, heard, context } = await window(browser, { width }, origin);
        await page.goto(served.address);
        await sound(page, t, "list");
        t.holds("a broken file and its place", (await page.textContent(".faults")).includes("line 1, column 1: the file lacks the key `units`"), "line 1", await page.textContent(".faults"));
        await begin(page, { id, by: "A. Ashdown" });
        await sound(page, t, "empty");
        await type(page, { ...SOUND, "treble width": ["8.0.1", "0.315", "8.01"], "double width": ["8.0", "8,01", "9.9"] });
        await kept(page);
        const typo = await remark(page, "treble width||0");
        t.holds("a typing error is named", typo.includes("8.0.1"), "8.0.1", typo);
        const inches = await remark(page, "treble width||1");
        t.holds("inches are asked about", inches.includes("0.315 in"), "0.315 in", inches);
        const remarks = await page.$$eval(".remarks", (all) => all.map((one) => one.innerText).join("\n"));
        t.holds("a reading stands apart", remarks.includes("stands apart"), "stands apart", remarks);
        await sound(page, t, "filled");
        for (const [name, text] of [["treble width||0", "8.01"], ["treble width||1", "8.0"], ["double width||2", "7.99"]]) {
          await page.focus(`input[name="${name}"]`);
          await page.keyboard.type(text);
          await page.keyboard.press("Enter");
        }
        await kept(page);
        await page.waitForFunction(() => document.querySelector("#standing").innerText.includes("conforms"));
        t.equal("errors that are left", await page.$$eval("[aria-invalid]", (all) => all.length), 0);
        await sound(page, t, "mended");
        await save(page);
        await sound(page, t, "saved");
        t.equal("in silence, and from nowhere else", heard, []);
        const file = join(folder, `${id.toLowerCase()}.yaml`);
        const lint = await run(program, "lint", file);
        t.equal("lint finds nothing", [lint.code, lint.out.includes(file)], [0, false]);
        // The same readings through the command.
        const pooled = join(top, `${id}.yaml`);
        const own = drafts(folder).filter((path) => path.includes(id.toLowerCase()));
        const tidy = own.map((path, nth) => {
          const copy = join(top, `${id}-${nth}.csv`);
          writeFileSync(copy, readFileSync(path, "utf8").replace(/"(\d+),(\d+)"/g, "$1.$2"));
          return copy;
        });
        const { code, err } = await run(program, "pool", ...tidy, "--output", pooled);
        t.equal("pool takes the drafts", [code, err.includes("refused")], [0, false]);
        t.equal("the same verdict and lengths", await verdict(program, file), await verdict(program, pooled));
        await context.close();
      });
    }

    for (const width of [1280, 390]) {
      await check(`desk: an edge that was mistaken is asked about at ${width} px`, async (t) => {
        const { page, context } = await window(browser, { width }, origin);
        await page.goto(served.address);
        await begin(page, { id: `FL-72-${width}`, by: "A. Ashdown" });
        // To the inside edges: a wire of 16 SWG less.
        await type(page, { ...SOUND, "treble_outer radius": ["105.374"], "double_outer radius": ["168.374"] });
        await kept(page);
        const remarks = await page.$$eval(".remarks", (all) => all.map((one) => one.innerText).join("\n"));
        t.holds("a question", remarks.includes("Was the right edge written down?"), "the question", remarks);
        await context.close();
      });

      await check(`desk: two people, and what they disagree about, at ${width} px`, async (t) => {
        for (const [by, treble, first] of [["A. Ashdown", "8.01", true], ["B. Birch", "8.4", false]]) {
          const { page, context } = await window(browser, { width }, origin);
          await page.goto(served.address);
          await begin(page, { id: `FL-73-${width}`, by, first });
          await type(page, { ...SOUND, "treble width": [treble, treble, treble], "inner_bull diameter": [by === "A. Ashdown" ? "12.7" : "12.71"] });
          await kept(page);
          if (!first) {
            const people = await page.textContent("#people");
            t.holds("as pool says it", people.includes("disagree"), "disagree", people);
            await page.locator("aside .button").click();
            const saving = await page.textContent("main");
            t.holds("before it is saved", saving.includes("People disagree"), "People disagree", saving.slice(0, 300));
          }
          await context.close();
        }
      });
    }

    await check("desk: two screens on one field, and on one file", async (t) => {
      const [one, other] = [await window(browser, { width: 1280 }, origin), await window(browser, { width: 1280 }, origin)];
      await one.page.goto(served.address);
      await begin(one.page, { id: "FL-74", by: "A. Ashdown" });
      await other.page.goto(served.address);
      await other.page.goto(one.page.url());
      const name = "treble width||0";
      for (const [{ page }, text] of [[one, "8.01"], [other, "8.10"]]) {
        await page.focus(`input[name="${name}"]`);
        await page.keyboard.type(text);
        await page.keyboard.press("Enter");
        await kept(page);
      }
      const told = await remark(other.page, name);
      t.holds("the second is told what is there", told.includes("8.01"), "8.01", told);
      const draft = () => readFileSync(drafts(folder).find((path) => path.includes("fl-74")), "utf8");
      t.holds("and nothing is lost", draft().includes("8.01") && !draft().includes("8.10"), "8.01", draft());
      for (const { page } of [one, other]) {
        await page.goto(page.url().replace("/measure", "/save"));
      }
      await one.page.locator("form[action='/save'] button").click();
      await one.page.waitForSelector("text=Saved as");
      const file = join(folder, "fl-74.yaml");
      writeFileSync(file, `${readFileSync(file, "utf8")}# by hand\n`);
      const before = readFileSync(file, "utf8");
      await other.page.locator("form[action='/save'] button").click();
      const main = await other.page.textContent("main");
      t.holds("the second sees that it changed", main.includes("has been changed"), "has been changed", main.slice(0, 300));
      t.equal("and the file is as it was", readFileSync(file, "utf8"), before);
      await one.context.close();
      await other.context.close();
    });

    await check("desk: without scripts the forms work", async (t) => {
      const { page, heard, context } = await window(browser, { width: 390, scripts: false }, origin);
      await page.goto(served.address);
      await begin(page, { id: "FL-75", by: "A. Ashdown" });
      for (const [item, texts] of Object.entries(SOUND)) {
        for (const [nth, text] of texts.entries()) await page.fill(`input[name="${item}||${nth}"]`, text);
      }
      await page.locator(".keep").first().click();
      await page.waitForURL(/measure/);
      const said = await standing(page);
      t.holds("a verdict", said.includes("conforms"), "conforms", said);
      t.equal("in silence", heard, []);
      await save(page);
      t.holds("a file", readdirSync(folder).includes("fl-75.yaml"), "fl-75.yaml", readdirSync(folder));
      await page.goto(`${origin}/report`);
      await page.fill("#name", "Autumn");
      await page.getByText("Show the report").click();
      const report = await page.textContent("body");
      t.holds("a report", report.includes("FL-75") && report.includes("Autumn"), "FL-75", report.slice(0, 200));
      await page.goto(`${origin}/compare`);
      await page.getByLabel(/^FL-70/).check();
      await page.getByLabel(/^FL-75/).check();
      await page.getByText("Compare the boards").click();
      const compared = await page.textContent("body");
      t.holds("a comparison", compared.includes("FL-70") && compared.includes("treble"), "FL-70", compared.slice(0, 200));
      await context.close();
    });

    await check("desk: nothing typed is left behind by a link", async (t) => {
      const { page, context } = await window(browser, { width: 1280 }, origin);
      await page.goto(served.address);
      await begin(page, { id: "FL-76", by: "A. Ashdown" });
      await page.route("**/typed", async (route) => {
        await new Promise((go) => setTimeout(go, 200));
        await route.continue();
      });
      const texts = ["12.71", "12.72", "12.73"];
      for (const text of texts) {
        await page.keyboard.type(text);
        await page.keyboard.press("Enter");
      }
      const name = await page.evaluate(() => document.activeElement.name);
      t.equal("the next length follows the third reading", name, "outer_bull diameter||0");
      await page.getByRole("link", { name: "Report" }).click();
      await page.waitForURL(/report/);
      const draft = readFileSync(drafts(folder).find((path) => path.includes("fl-76")), "utf8");
      for (const text of texts) t.holds(text, draft.includes(text), text, draft);
      await context.close();
    });

    await check("desk: what was refused is tried again, and what was changed on the way is sent", async (t) => {
      const { page, context } = await window(browser, { width: 1280 }, origin);
      await page.goto(served.address);
      await begin(page, { id: "FL-77", by: "A. Ashdown" });
      let refusals = 1;
      await page.route("**/typed", async (route) => {
        await new Promise((go) => setTimeout(go, 400));
        if (refusals > 0) {
          refusals -= 1;
          const body = "<main><h1>This was not kept</h1><p class='trouble'>the disk is full</p></main>";
          await route.fulfill({ status: 507, contentType: "text/html", body });
        } else await route.continue();
      });
      const name = "inner_bull diameter||0";
      await page.keyboard.type("12.71");
      await page.keyboard.press("Enter");
      await page.waitForFunction(
        (own) => document.querySelector(`input[name="${own}"]`).closest(".field").innerText.includes("disk is full"),
        name,
      );
      await kept(page);
      const draft = () => readFileSync(drafts(folder).find((path) => path.includes("fl-77")), "utf8");
      t.holds("tried again", draft().includes("12.71"), "12.71", draft());
      await page.focus(`input[name="${name}"]`);
      await page.keyboard.type("12.72");
      await page.keyboard.press("Enter");
      await page.waitForTimeout(200);
      await page.fill(`input[name="${name}"]`, "12.73");
      await page.waitForTimeout(1500);
      await kept(page);
      t.holds("the last that was typed", draft().includes("12.73") && !draft().includes("12.72"), "12.73", draft());
      await context.close();
    });

    await check("desk: an inspection leaves others as they are", async (t) => {
      cpSync("specs/demo/11-pooled.yaml", join(folder, "fl-11.yaml"));
      const before = readFileSync(join(folder, "fl-11.yaml"), "utf8");
      const { page, context } = await window(browser, { width: 1280 }, origin);
      await page.goto(served.address);
      await begin(page, { id: "FL-11", by: "C. Cedar", first: false });
      await type(page, SOUND);
      await kept(page);
      await save(page);
      t.equal("the file of the inspection before", readFileSync(join(folder, "fl-11.yaml"), "utf8"), before);
      const own = readdirSync(folder).filter((file) => file.startsWith("fl-11-"));
      t.equal("a file of its own", own.length, 1);
      t.equal("lint", (await run(program, "lint", join(folder, own[0]))).code, 0);
      await page.goto(origin);
      await begin(page, { id: "FL-11", by: "D. Dale", first: false });
      await type(page, { "treble width": ["8.01"] });
      await kept(page);
      await save(page);
      const saved = readFileSync(join(folder, own[0]), "utf8");
      t.equal("both are in it", [saved.includes("C. Cedar"), saved.includes("D. Dale")], [true, true]);
      t.equal("and no third file", readdirSync(folder).filter((file) => file.startsWith("fl-11")).length, 2);
      await context.close();
    });

    await check("desk: in the dark", async (t) => {
      const { page, context } = await window(browser, { width: 768, colorScheme: "dark" }, origin);
      await page.goto(served.address);
      for (const where of ["/", "/report", "/compare", "/new", "/nowhere"]) {
        await page.goto(origin + where);
        await sound(page, t, where);
      }
      await context.close();
    });
  } finally {
    await served.kill();
  }
}
