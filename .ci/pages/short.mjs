// Whether a report with a page for each board says what its JSON says.

import { answer, bands, drawn, mark } from "./numbers.mjs";
import { check } from "./tally.mjs";

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
    });
  });
}
