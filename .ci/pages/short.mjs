// Whether a report with a page for each board says what its JSON says.

import { answer, bands, drawn, mark } from "./numbers.mjs";
import { check } from "./tally.mjs";

/** Half of the last digit that is printed. */
const half = (printed) => 0.5 * 10 ** -(printed.split(".")[1] ?? "").length * (1 + 1e-9);
const rounds = (printed, value) => Math.abs(Number(printed) - value) <= half(printed) + 1e-9;

/** Areas beside the nominal ones, and each length that is magnified, with its limits. */
function magnified(t, board, words) {
  for (const { band, free_area, nominal_free_area } of board.bands) {
    if (nominal_free_area === undefined) continue;
    const areas = `${free_area.toFixed(1)} of ${nominal_free_area.toFixed(1)} mm²`;
    t.holds(`${board.id}: ${band}`, words.includes(areas), areas, words);
  }
  const found = [...words.matchAll(/([\d.]+)(?: ± [\d.]+)? mm(?:, taken as exact| \(k = [\d.]+\))?, allowed ([\d.]+) to ([\d.]+) mm ([✓✗?])/g)];
  t.holds(`${board.id}: magnified`, found.length > 0, "one length at least", words);
  for (const [line, value, lower, upper, sign] of found) {
    const known = board.limits.some(
      (limit) =>
        limit.value !== undefined && rounds(value, limit.value) && rounds(lower, limit.lower) && rounds(upper, limit.upper) &&
        mark(limit.verdict).startsWith(sign),
    );
    t.holds(`${board.id}: magnified`, known, "a limit of the JSON", line);
  }
}

/** A report with a page for each board: its answer, verdicts, bands and drawings. */
export async function pages(name, json, parts) {
  const boards = parts.filter((part) => part.id !== "summary");
  await check(`${name}: answer, verdicts and bands as in the JSON`, (t) => {
    answer(t, json, parts.find((part) => part.id === "summary"));
    t.equal("boards", boards.length, json.boards.length);
    json.boards.forEach((board, i) => {
      t.equal(`${board.id}: verdict`, boards[i]?.verdict, mark(board.verdict));
      bands(t, board, boards[i]);
      drawn(t, board, boards[i]);
      magnified(t, board, boards[i].drawings[1]);
    });
  });
}
