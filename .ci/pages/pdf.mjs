// The PDFs that the program writes itself.

import { readFileSync } from "node:fs";

import { CJK, GREEK, HEBREW, LATIN, MARKUP } from "./inputs.mjs";
import { sheets } from "./letters.mjs";
import { output, run } from "./run.mjs";
import { check } from "./tally.mjs";

const PAPERS = { A4: [595.3, 841.9], Letter: [612, 792] };

export async function pdf(report, parts) {
  for (const [paper, file] of [
    ["A4", report.pdf],
    ["Letter", report.letter],
  ]) {
    await one(`${report.name}, PDF on ${paper}`, report, file, PAPERS[paper], parts);
  }
}

/** The tables of a tagged PDF: rows of cells without white space, headings first. */
function structure(text) {
  const tables = [];
  for (const line of text.split("\n")) {
    const words = line.match(/^\s*"(.*)"$/)?.[1];
    const [, depth, tag] = line.match(/^( *)(\w+)/) ?? [];
    if (tag === "Table") tables.push({ depth: depth.length, rows: [], cell: false, open: true });
    const table = tables.at(-1);
    if (!table?.open) continue;
    if (tag !== undefined && tag !== "Table") {
      if (depth.length <= table.depth) table.open = false;
      else if (tag === "TR") table.rows.push([]);
      table.cell = tag === "TH" || tag === "TD";
      if (table.open && table.cell) table.rows.at(-1).push("");
    } else if (words !== undefined && table.cell) {
      const row = table.rows.at(-1);
      row.push(row.pop() + words.replace(/\s+/g, ""));
    }
  }
  return tables.map(({ rows }) => rows);
}

/** What every PDF must be: its text, in the order of the content. */
export async function sound(name, file, sides, title) {
  const [width, height] = sides ?? PAPERS.A4;
  await check(`${name}: is sound`, async ({ equal, holds }) => {
    const { code, out, err } = await run("qpdf", "--check", file);
    equal("exit code of qpdf", code, 0);
    holds("qpdf", !/warning|error/i.test(err + out.replace(/No syntax or stream encoding errors.*/s, "")), "no warning", out + err);
  });
  await check(`${name}: tagged, titled, on its paper`, async ({ equal, holds }) => {
    const info = await output("pdfinfo", "-f", "1", "-l", "-1", file);
    const value = (key) => info.match(new RegExp(`^${key}:\\s+(.*)$`, "m"))?.[1];
    equal("Tagged", value("Tagged"), "yes");
    const stated = readFileSync(file, "latin1");
    equal("PDF/UA-1", /pdfuaid:part>1</.test(stated), true);
    // PDF/A asks for a date, and only a report has one.
    const archived = /pdfaid:part>2</.test(stated) && /pdfaid:conformance>A</.test(stated);
    equal("PDF/A-2a where there is a date", archived, value("CreationDate") !== undefined);
    holds("Title", (value("Title") ?? "").startsWith(title), `${title}…`, value("Title") ?? "none");
    const sizes = [...info.matchAll(/size:\s+([\d.]+) x ([\d.]+)/g)];
    equal("pages with a size", sizes.length, Number(value("Pages")));
    sizes.forEach(([, w, h], i) =>
      holds(`page ${i + 1}`, Math.abs(w - width) < 1 && Math.abs(h - height) < 1, [width, height], [w, h]),
    );
  });
  await check(`${name}: every font embedded`, async ({ holds }) => {
    // Name, type, encoding, emb, sub, uni, object: the three in the middle are yes or no.
    for (const line of (await output("pdffonts", file)).split("\n").slice(2).filter(Boolean)) {
      const [, embedded] = line.match(/\s(yes|no)\s+(?:yes|no)\s+(?:yes|no)\s+\d+\s+\d+\s*$/) ?? [];
      holds("font", embedded === "yes", "emb yes", line);
    }
  });

  await sheets(name, file);

  // In the order of the content: a cell that is broken into lines stays together.
  const raw = await output("pdftotext", "-raw", file, "-");
  await check(`${name}: every page numbered, none empty`, ({ holds }) => {
    const pages = raw.split("\f").slice(0, -1);
    pages.forEach((page, i) => {
      const number = `page ${i + 1} of ${pages.length}`;
      holds(number, page.includes(number), number, page.match(/page \d.*/)?.[0] ?? page);
      const rest = page.split("\n").filter((line) => line.trim());
      holds(number, rest.length > 2, "more than head and foot", rest);
    });
  });
  return raw;
}

/** The PDFs that are short: at most so many pages, one for each board. */
async function short(folder) {
  for (const [name, title, most] of [
    ["boards", "Compliance report", 18],
    ["short", "Compliance report", 2],
    ["history", "History of boards", Infinity],
    ["leg", "A leg of 101", Infinity],
    ["lot", "", Infinity],
  ]) {
    const raw = await sound(`${name}, PDF`, `${folder}/${name}.pdf`, PAPERS.A4, title);
    const count = raw.split("\f").length - 1;
    await check(`${name}, PDF: its pages`, ({ holds }) => holds("pages", count <= most, `at most ${most}`, count));
  }
}

/** The PDFs of a comparison and of a worksheet: their pages' words, and drawings that are described. */
export async function others(folder) {
  await short(folder);
  for (const [name, sides, title, figures] of [
    ["compare", PAPERS.A4, "What the difference does", 9],
    ["areas", PAPERS.A4, "What the areas say", 0],
    ["worksheet", PAPERS.A4, "Inspection sheet", 2],
  ]) {
    const file = `${folder}/${name}.pdf`;
    const raw = await sound(`${name}, PDF`, file, sides, title);
    await check(`${name}, PDF: its structure`, async ({ equal, holds }) => {
      const text = await output("pdfinfo", "-struct-text", file);
      equal("drawings", text.match(/^ *Figure/gm)?.length ?? 0, figures);
      const tables = structure(text);
      holds("tables", tables.length > 1, "at least two", tables.length);
      for (const row of tables.flat(1)) holds("row", row.length > 1, "several cells", row);
      holds("markup as text", raw.replace(/\s+/g, "").includes("H<1>"), "H<1>", "no such text");
    });
  }
}

async function one(name, report, file, sides, parts) {
  const raw = await sound(name, file, sides, "Compliance report");
  await check(`${name}: verdicts, marks and rows of the page`, ({ holds }) => {
    const json = JSON.parse(readFileSync(report.json, "utf8"));
    const text = raw.replace(/\s+/g, " ");
    const verdicts = json.boards.flatMap((board) => [board, ...board.limits, ...board.bands]).map(({ verdict }) => verdict);
    for (const [verdict, words] of [
      ["conforms", /(?<!not )\bconforms\b(?! within)/g],
      ["does-not-conform", /does not conform/g],
      ["inconclusive", /inconclusive/g],
      ["not-checked", /not checked/g],
    ]) {
      const least = verdicts.filter((one) => one === verdict).length;
      const found = text.match(words)?.length ?? 0;
      holds(verdict, found >= least, `at least ${least}`, found);
    }
    for (const { id } of json.boards) holds("mark", text.includes(id), id, "no such text");
    // The rest of a row after its name, which may be broken into lines.
    // A factor k may stand on a line below its number.
    const factors = /\(k\d+\.\d\d\)/g;
    const whole = raw.replace(/\s+/g, "");
    const tight = whole.replace(factors, "");
    const asked = [];
    for (const part of parts) {
      for (const { heads, rows } of part.tables) {
        if (!["beyond", "free"].some((head) => heads.includes(head))) continue;
        for (const { key, cells } of rows) {
          const full = cells.slice(1).join("").replace(/\s+/g, "");
          asked.push(...(full.match(factors) ?? []));
          const row = full.replace(factors, "");
          holds(`${part.id}: ${key}`, tight.includes(row), row, "no such row");
        }
      }
    }
    const found = whole.match(factors)?.length ?? 0;
    holds("factors k", found >= asked.length, `at least ${asked.length}`, found);
  });
  // Takes too long for the event, and says the same of every paper.
  if (parts.length === 1 && file === report.pdf) {
    await check(`${name}: its structure holds the tables of the page`, async ({ equal }) => {
      const tables = structure(await output("pdfinfo", "-struct-text", file));
      const tight = ({ heads, rows }) => [heads, ...rows].map((row) => row.map((cell) => cell.replace(/\s+/g, "")));
      const expected = parts[0].tables.map(({ heads, rows }) => tight({ heads, rows: rows.map(({ cells }) => cells) }));
      equal("tables", tables.length, expected.length);
      expected.forEach((table, i) =>
        table.forEach((row, j) => equal(`table ${i + 1}, row ${j}`, tables[i]?.[j], row)),
      );
    });
  }
  if (report.name !== "hostile") return;
  await check(`${name}: every script readable`, ({ holds }) => {
    // A factor k may stand on a line below its number.
    const factors = /\(k\d+\.\d\d\)/g;
    const whole = raw.replace(/\s+/g, "");
    const tight = whole.replace(factors, "");
    const asked = [];
    const either = [HEBREW, [...HEBREW].reverse().join("")];
    holds("Latin", tight.includes(LATIN.replace(/\s+/g, "")), LATIN, "no such text");
    holds("Greek", tight.includes(GREEK), GREEK, "no such text");
    holds("Hebrew", either.some((word) => tight.includes(word)), HEBREW, "no such text");
    holds("markup as text", tight.includes(MARKUP), MARKUP, "no such text");
    // The built-in font has no ideographs: their numbers stand in for them.
    for (const c of CJK) {
      const number = `U+${c.codePointAt(0).toString(16).toUpperCase()}`;
      holds("ideograph", tight.includes(number), number, "no such text");
    }
  });
}
