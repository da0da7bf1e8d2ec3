// The page of a report says what its JSON says, number by number.

import { readFileSync } from "node:fs";

import { check } from "./tally.mjs";

const NONE = "–";
const WORDS = {
  conforms: "conforms",
  "does-not-conform": "does not conform",
  inconclusive: "inconclusive",
  "not-checked": "not checked",
};
const SIGNS = { conforms: "✓", "does-not-conform": "✗", inconclusive: "?", "not-checked": NONE };

/** A verdict as it stands in a column. Without one, no limit was set. */
export const mark = (verdict) =>
  verdict === undefined ? "no limit" : `${SIGNS[verdict]} ${WORDS[verdict]}`;

/** What the pages print in place of characters that hide or reorder text. */
const UNSAFE =
  /[\p{Cc}\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;
export const spelt = (text) =>
  text.replace(UNSAFE, (c) => `\\u{${c.codePointAt(0).toString(16)}}`);
const plain = (text) => spelt(text).replace(/\s+/g, " ").trim();

/**
 * Whether `printed` is `value` rounded to so many decimals. Half of the last
 * digit is allowed either way, so that it does not matter how ties are broken.
 */
function rounds(printed, value, decimals, signed = false) {
  const sign = signed ? "[+-]?" : "-?";
  const digits = decimals === 0 ? "" : `\\.\\d{${decimals}}`;
  if (!new RegExp(`^${sign}\\d+${digits}$`).test(printed)) return false;
  const number = Number(printed);
  if (signed && number !== 0 && !/^[+-]/.test(printed)) return false;
  return Math.abs(number - value) <= 0.5 * 10 ** -decimals * (1 + 1e-9) + 1e-9;
}

/** Nobody measures a board to less than a nanometre. */
const MOST_DECIMALS = 6;

/** The decimals that give an uncertainty two significant digits. */
function twoDigits(expanded) {
  if (!(expanded > 0)) return MOST_DECIMALS;
  const places = (number) => 1 - Math.floor(Math.log10(number));
  const scale = 10 ** places(expanded);
  return Math.min(Math.max(places(Math.round(expanded * scale) / scale), 0), MOST_DECIMALS);
}

/** The decimals, at least so many, with which a number does not print as zero. */
function enough(number, decimals) {
  while (decimals < MOST_DECIMALS && Math.abs(number) < 0.5 * 10 ** -decimals) decimals += 1;
  return decimals;
}

/** How the table's file says a limit: its JSON leaves the nominal value out. */
function demand(limit, files) {
  const { file, end } = limit.limit_at;
  files[file] ??= readFileSync(file);
  const after = files[file].subarray(end).toString("utf8");
  const block = after.split(/\n {0,2}\S/)[0];
  const nominal = block.match(/\bnominal: ([\d.]+) mm/)?.[1];
  const either = block.match(/\btolerance: ([\d.]+) mm/)?.[1];
  const half = block.match(/\blower: ([\d.]+) mm, upper: ([\d.]+) mm/);
  const swg = /\bSWG\b/.test(block);
  if (nominal === undefined) return { swg };
  const below = Number(half?.[1] ?? either);
  const above = Number(half?.[2] ?? either);
  return { nominal: Number(nominal), lower: nominal - below, upper: Number(nominal) + above };
}

export async function numbers(report, parts) {
  const json = JSON.parse(readFileSync(report.json, "utf8"));
  const boards = parts.filter((part) => part.id !== "summary");

  await check(`${report.name}: a part for each board of the JSON`, ({ equal }) => {
    const titles = (board) => plain(board.name === undefined ? board.id : `${board.id}, ${board.name}`);
    equal("headings", boards.map((part) => part.title), json.boards.map(titles));
    equal("summary", parts.some((part) => part.id === "summary"), json.boards.length > 1);
  });
  await check(`${report.name}: verdict and facts of each board`, (t) =>
    json.boards.forEach((board, i) => facts(t, board, boards[i], json)),
  );
  await check(`${report.name}: limits as in the JSON`, (t) => {
    const files = {};
    json.boards.forEach((board, i) => limits(t, board, boards[i], files));
  });
  await check(`${report.name}: bands as in the JSON`, (t) =>
    json.boards.forEach((board, i) => bands(t, board, boards[i])),
  );
  await check(`${report.name}: bands in the drawing as in the JSON`, (t) =>
    json.boards.forEach((board, i) => drawn(t, board, boards[i])),
  );
  await check(`${report.name}: drivers and measured lengths as in the JSON`, (t) =>
    json.boards.forEach((board, i) => lengths(t, board, boards[i])),
  );
  if (json.boards.length > 1) {
    await check(`${report.name}: the summary as in the JSON`, (t) =>
      summary(t, json, parts.find((part) => part.id === "summary")),
    );
  }
}

/** Rows by key, each with its cells by heading; a table that is not there has none. */
function rows(t, where, part, head, second, expected) {
  const table = part.tables.find(({ heads }) => heads[0] === head && heads.includes(second));
  const found = (table?.rows ?? []).map(({ key, cells }) => [
    key,
    Object.fromEntries(table.heads.map((name, i) => [name, cells[i]])),
  ]);
  t.equal(`${where}: rows`, found.map(([key]) => key), expected);
  return new Map(found);
}

function facts(t, board, part, json) {
  const where = board.id;
  const said = (name) => part.sentence.match(name)?.[1] ?? "0";
  const { checks } = board;
  const total = checks.conform + checks.do_not_conform + checks.inconclusive + checks.not_checked;
  t.equal(`${where}: verdict`, part.verdict, mark(board.verdict));
  t.equal(`${where}: checks that conform`, said(/(\d+ of \d+) checks conform/), `${checks.conform} of ${total}`);
  t.equal(`${where}: checks that do not`, said(/, (\d+) do(?:es)? not conform/), String(checks.do_not_conform));
  t.equal(`${where}: inconclusive checks`, said(/, (\d+) (?:is|are) inconclusive/), String(checks.inconclusive));
  t.equal(`${where}: checks not made`, said(/, (\d+) could not be checked/), String(checks.not_checked));
  // The counts are of the checks that are listed.
  const verdicts = [...board.limits, ...board.bands].map((one) => one.verdict);
  const counted = (verdict) => verdicts.filter((one) => one === verdict).length;
  t.equal(
    `${where}: the JSON's own counts`,
    [checks.conform, checks.do_not_conform, checks.inconclusive, checks.not_checked],
    ["conforms", "does-not-conform", "inconclusive", "not-checked"].map(counted),
  );
  const stated = (value) => (value === undefined ? "not stated" : plain(String(value)));
  for (const [name, value] of [
    ["report number", board.report_number],
    ["event", json.event.name],
    ["place", json.event.place],
    ["date of inspection", board.inspected ?? json.event.inspected],
    ["date of issue", json.event.issued],
    ["id on the board", board.id],
    ["where it hangs", board.name],
    ["maker", board.maker],
    ["serial number", board.serial],
    ["made", board.made],
    ["described in", board.file],
    ["SHA-256 of that file", board.sha256],
    ["table", json.table.title],
    ["provenance", json.table.source.provenance],
    ["decision rule", json.decision_rule_explained],
  ]) {
    t.equal(`${where}: ${name}`, part.facts[name], stated(value));
  }
  if (board.note !== undefined) {
    t.holds(`${where}: note`, part.points.includes(plain(board.note)), plain(board.note), part.points);
  }
}

function uncertainty(t, where, cell, given) {
  if (given === undefined) return t.equal(where, cell, NONE);
  if (given.expanded === 0) return t.equal(where, cell, "exact");
  const [, number, factor] = cell.match(/^(\S+)(?: \(k\s(\d+\.\d\d)\))?$/) ?? [];
  t.holds(where, rounds(number ?? "", given.expanded, twoDigits(given.expanded)), given.expanded, cell);
  const usual = Math.abs(given.coverage_factor - 2) < 0.005;
  const right = usual ? factor === undefined : rounds(factor ?? "", given.coverage_factor, 2);
  t.holds(`${where}, factor`, right, usual ? "none, k is 2" : given.coverage_factor, cell);
}

function probability(t, where, cell, probability) {
  if (probability === undefined) return t.equal(where, cell, NONE);
  const right = cell.endsWith(" %") && rounds(cell.slice(0, -2), 100 * probability, 1);
  t.holds(where, right, `${100 * probability} %`, cell);
}

/** What an angle and a bed's deviation are followed by; lengths stand in a column of mm. */
const UNITS = { "sector.angle": "°", "bed.area": " %" };

/** The interval of an angle or of a bed, as its table gives it. */
function asWritten(t, where, cell, { lower, upper }, unit) {
  const numbers = cell.endsWith(unit) ? cell.slice(0, -unit.length).split(" to ").map(Number) : [];
  t.equal(where, numbers, [lower, upper]);
}

/** `lower to upper`, or one of them; `signed` for percentages. */
function within(t, where, cell, { lower, upper }, decimals, signed, otherwise) {
  const [, a, b] = cell.match(/^(\S+) to (\S+)$/) ?? [];
  const [, way, one] = cell.match(/^at (least|most) (\S+?)(?: %)?$/) ?? [];
  let right;
  if (lower !== undefined && upper !== undefined) {
    right = rounds(a ?? "", lower, decimals, signed) && rounds(b ?? "", upper, decimals, signed);
  } else if (lower !== undefined) {
    right = way === "least" && rounds(one, lower, decimals, signed);
  } else if (upper !== undefined) {
    right = way === "most" && rounds(one, upper, decimals, signed);
  } else {
    right = cell === otherwise;
  }
  t.holds(where, right, [lower, upper], cell);
}

function cited(t, where, cell, source, part) {
  const line = part.points.find((point) => point.startsWith(`${cell} `)) ?? "";
  const right = /^\[\d+\]$/.test(cell) && [source.document, source.edition, source.clause]
    .every((words) => words === undefined || line.includes(words));
  t.holds(where, right, source, `${cell}: ${line}`);
}

function limits(t, board, part, files) {
  const keys = board.limits.map(({ limit, part }) => (part ? `${limit}/${part}` : limit));
  const found = rows(t, `${board.id}: limits`, part, "limit", "beyond", keys);
  board.limits.forEach((limit, i) => {
    const cells = found.get(keys[i]);
    if (!cells) return;
    const where = (name) => `${board.id}: ${keys[i]}: ${name}`;
    const decimals = limit.measurand.endsWith("gauge") ? 3 : 2;
    const asked = demand(limit, files);
    t.equal(where("verdict"), cells.verdict, mark(limit.verdict));
    cited(t, where("source"), cells.source, limit.source, part);
    if (limit.value === undefined) {
      t.equal(where("measured"), cells.measured, limit.mounting ?? NONE);
      for (const name of ["± U", "deviation", "beyond", "probability"]) t.equal(where(name), cells[name], NONE);
      const given = limit.lower !== undefined || limit.upper !== undefined ? limit : asked;
      // A gauge is asked for by its number, which only the program's table turns into mm.
      if (!given.swg && limit.mounting === undefined) {
        within(t, where("conforms within"), cells["conforms within"], given, decimals, false, "any");
      }
      return;
    }
    const known = limit.uncertainty?.expanded;
    const unit = UNITS[limit.measurand];
    if (unit !== undefined) {
      const right = cells.measured.endsWith(unit) &&
        rounds(cells.measured.slice(0, -unit.length), limit.value, known > 0 ? twoDigits(known) : 1, unit === " %");
      t.holds(where("measured"), right, limit.value, cells.measured);
      uncertainty(t, where("± U"), cells["± U"], limit.uncertainty);
      asWritten(t, where("conforms within"), cells["conforms within"], limit, unit);
      probability(t, where("probability"), cells.probability, limit.probability_of_conformity);
      for (const name of ["deviation", "beyond"]) t.equal(where(name), cells[name], NONE);
      return;
    }
    const own = known > 0 ? twoDigits(known) : decimals;
    const places = limit.beyond === 0 ? own : enough(limit.beyond, own);
    t.holds(where("measured"), rounds(cells.measured, limit.value, places), limit.value, cells.measured);
    uncertainty(t, where("± U"), cells["± U"], limit.uncertainty);
    within(t, where("conforms within"), cells["conforms within"], limit, decimals, false, "any");
    probability(t, where("probability"), cells.probability, limit.probability_of_conformity);
    const nominal = limit.nominal ?? asked.nominal;
    if (nominal === undefined) {
      t.equal(where("deviation"), cells.deviation, NONE);
    } else {
      const deviation = limit.value - nominal;
      t.holds(where("deviation"), rounds(cells.deviation, deviation, places, true), deviation, cells.deviation);
    }
    if (limit.beyond === 0) {
      t.equal(where("beyond"), cells.beyond, NONE);
    } else {
      t.holds(where("beyond"), rounds(cells.beyond, limit.beyond, places, true), limit.beyond, cells.beyond);
    }
  });
}

const bandName = (band) => band.band.replaceAll("_", " ");

export function bands(t, board, part) {
  const keys = board.bands.map(({ band }) => band);
  const found = rows(t, `${board.id}: bands`, part, "band", "free", keys);
  for (const band of board.bands) {
    const cells = found.get(band.band);
    if (!cells) continue;
    const where = (name) => `${board.id}: ${band.band}: ${name}`;
    const number = (name, value, signed) =>
      value === undefined
        ? t.equal(where(name), cells[name], NONE)
        : t.holds(where(name), rounds(cells[name], value, 1, signed), value, cells[name]);
    t.equal(where("name"), cells.band, bandName(band));
    t.equal(where("verdict"), cells.verdict, mark(band.verdict));
    number("free", band.free_area);
    number("nominal", band.nominal_free_area);
    // On the page of a board there are fewer columns.
    if ("metal" in cells) number("metal", band.metal_share);
    number("deviation", band.deviation, true);
    uncertainty(t, where("± U"), cells["± U"], band.deviation_uncertainty);
    const none = band.deviation === undefined ? NONE : "no limit";
    within(t, where("conforms within"), cells["conforms within"], band, 1, true, none);
    if (!("source" in cells)) continue;
    probability(t, where("probability"), cells.probability, band.probability_of_conformity);
    t.equal(where("source"), cells.source !== NONE, band.bounds_derived === false);
  }
}

/** The figures on the bands of the drawing, and what is read out for them. */
export function drawn(t, board, part) {
  t.equal(`${board.id}: bands drawn`, part.bands.length, board.bands.length);
  for (const band of board.bands) {
    const where = `${board.id}: ${band.band}`;
    const found = part.bands.find(({ label }) => label.startsWith(`${bandName(band)}:`));
    const word = band.verdict === undefined ? "no limit" : WORDS[band.verdict];
    if (!found || !found.label.includes(word)) {
      t.fail(`${where}: label`, word, found?.label ?? "no such band");
    } else if (band.deviation === undefined) {
      t.holds(`${where}: figure`, /not checked|mm²/.test(found.figure), "no deviation", found.figure);
    } else {
      const [, number, sign = ""] = found.figure.match(/^(\S+) %(?: (.))?$/) ?? [];
      const right = rounds((number ?? "").replace("−", "-"), band.deviation, 1, true);
      t.holds(`${where}: figure`, right, band.deviation, found.figure);
      t.equal(`${where}: sign`, sign, band.verdict === undefined ? "" : SIGNS[band.verdict]);
    }
  }
}

/** What a driver must be worth, in percent of area, to get a row. */
const WORTH_NAMING = 0.1;

/** What a length is of, and where around the board it was taken. */
const nameOf = ({ quantity, at }) => (at ? `${quantity} at ${at}` : quantity);

function lengths(t, board, part) {
  const drivers = board.bands.flatMap((band) =>
    band.drivers
      .filter(({ share }) => Math.abs(share) >= WORTH_NAMING)
      .map((driver) => [`${band.band}/${nameOf(driver)}`, driver]),
  );
  const driven = rows(t, `${board.id}: drivers`, part, "band", "driven by", drivers.map(([key]) => key));
  const wire = (quantity) => (/wire|offset/.test(quantity) ? 3 : 2);
  for (const [key, driver] of drivers) {
    const cells = driven.get(key);
    if (!cells) continue;
    for (const [name, value, decimals, signed] of [
      ["measured, mm", driver.value, wire(driver.quantity)],
      ["nominal, mm", driver.nominal, wire(driver.quantity)],
      ["share of area, %", driver.share, 1, true],
    ]) {
      t.holds(`${board.id}: ${key}: ${name}`, rounds(cells[name], value, decimals, signed), value, cells[name]);
    }
  }
  const table = part.tables.find(({ heads }) => heads[0] === "length");
  for (const input of board.limits.flatMap((limit) => limit.measured_at)) {
    const row = table?.rows.find(({ key }) => key === nameOf(input));
    const cells = row && Object.fromEntries(table.heads.map((name, i) => [name, row.cells[i]]));
    const where = `${board.id}: measured: ${nameOf(input)}`;
    if (!cells) {
      t.fail(where, "a row", table?.rows.map(({ key }) => key));
      continue;
    }
    t.holds(`${where}: value`, rounds(cells.value, input.value, wire(input.quantity)), input.value, cells.value);
    t.equal(`${where}: edge`, cells.edge, input.edge ?? NONE);
    t.equal(`${where}: line`, cells.line, String(input.place.line));
  }
}

/** The answer of the first page. */
export function answer(t, json, part) {
  const good = json.boards.filter((board) => board.verdict === "conforms").length;
  t.equal("answer", part.verdict, `${good} of ${json.boards.length} boards may be used`);
}

function summary(t, json, part) {
  const { boards, conform, do_not_conform, inconclusive } = json.summary;
  const [, ...said] =
    part.sentence.match(/(\d+) boards were inspected: (\d+) conforms?, (\d+) do(?:es)? not conform, (\d+) (?:is|are) inconclusive/) ?? [];
  t.equal("counts", said.map(Number), [boards, conform, do_not_conform, inconclusive]);
  t.equal("boards", boards, json.boards.length);
  answer(t, json, part);
  const found = rows(t, "summary", part, "board", "worst band", json.boards.map(({ id }) => id));
  for (const board of json.boards) {
    const cells = found.get(board.id);
    if (!cells) continue;
    const { conform, do_not_conform, inconclusive, not_checked } = board.checks;
    const total = conform + do_not_conform + inconclusive + not_checked;
    for (const [name, value] of [
      ["board", board.id],
      ["where it hangs", plain(board.name ?? "")],
      ["verdict", mark(board.verdict)],
      ["conform", `${conform} of ${total}`],
      ["fail", String(do_not_conform)],
      ["inconclusive", String(inconclusive)],
      ["not checked", String(not_checked)],
    ]) {
      t.equal(`${board.id}: ${name}`, cells[name], value);
    }
    const [, shape, name, number] = cells["worst band"].match(/^(.) (.+) (\S+) %$/) ?? [];
    const band = board.bands.find((band) => bandName(band) === name);
    const right = band && shape === SIGNS[band.verdict] && rounds(number, band.deviation, 1, true);
    t.holds(`${board.id}: worst band`, right, band ?? "a band of the board", cells["worst band"]);
  }
  const table = part.tables.find(({ heads }) => heads[0] === "check");
  for (const [head, key] of [
    ["does not conform", "do_not_conform"],
    ["inconclusive", "inconclusive"],
    ["not checked", "not_checked"],
  ]) {
    const column = table?.heads.indexOf(head);
    const sum = table?.rows.reduce((sum, row) => sum + Number(row.cells[column]), 0);
    t.equal(`which checks fail: ${head}`, sum, json.boards.reduce((sum, { checks }) => sum + checks[key], 0));
  }
}
