// Where an editor's cursor stands: `¦`. Every document begins with the line that names its
// schema, as if it lay in `specs/demo`.

const BOARD = "format: ringrule/board/1\nboard: { id: FL-90 }\nmounting: staples\nunits: mm\n";
const TABLE = 'format: ringrule/table/1\ntitle: House rules\n';

/** Completions: what is asked, the schema, the document. */
export const COMPLETIONS = [
  ["the top of an empty board", "board", "¦"],
  ["the beginning of a key", "board", "form¦\n"],
  ["a key below others", "board", `${BOARD}¦`],
  ["format of a board", "board", "format: ¦\n"],
  ["mounting", "board", "format: ringrule/board/1\nmounting: ¦\n"],
  ["the beginning of a mounting", "board", "format: ringrule/board/1\nmounting: st¦\n"],
  ["profile", "board", `${BOARD}profile: ¦\n`],
  ["units", "board", "format: ringrule/board/1\nunits: ¦\n"],
  ["metal", "board", `${BOARD}metal: ¦\n`],
  ["board", "board", "format: ringrule/board/1\nboard:\n  ¦\n"],
  ["rings", "board", `${BOARD}rings:\n  ¦\n`],
  ["a ring", "board", `${BOARD}rings:\n  treble_outer:\n    ¦\n`],
  ["a ring in one line", "board", `${BOARD}rings:\n  treble_outer: { radius: 107, ¦ }\n`],
  ["the edge of a ring", "board", `${BOARD}rings:\n  treble_outer:\n    radius: 107\n    edge: ¦\n`],
  ["the edge of a ring in one line", "board", `${BOARD}rings:\n  treble_outer: { radius: 107, edge: ¦ }\n`],
  ["the edge of a ring in one line, begun", "board", `${BOARD}rings:\n  treble_outer: { radius: 107, edge: in¦ }\n`],
  ["wires", "board", `${BOARD}wires:\n  ¦\n`],
  ["a wire", "board", `${BOARD}wires:\n  rings: ¦\n`],
  ["widths", "board", `${BOARD}widths:\n  ¦\n`],
  ["a width", "board", `${BOARD}widths:\n  treble:\n    ¦\n`],
  ["the edge of a width", "board", `${BOARD}widths:\n  treble:\n    edge: ¦\n`],
  ["inspection", "board", `${BOARD}inspection:\n  ¦\n`],
  ["instrument", "board", `${BOARD}instrument:\n  ¦\n`],
  ["the top of an empty table", "table", "¦"],
  ["a limit", "table", `${TABLE}limits:\n  treble_width:\n    ¦\n`],
  ["a measurand", "table", `${TABLE}limits:\n  treble_width:\n    measurand: ¦\n`],
  ["when a limit holds", "table", `${TABLE}limits:\n  treble_width:\n    when:\n      ¦\n`],
  ["the source of a table", "table", `${TABLE}source:\n  ¦\n`],
  ["provenance", "table", `${TABLE}source:\n  document: House rules\n  provenance: ¦\n`],
  ["decision", "table", `${TABLE}decision:\n  ¦\n`],
  ["decision rule", "table", `${TABLE}decision:\n  rule: ¦\n`],
  ["the top of an empty event", "event", "¦"],
  ["the top of empty settings", "settings", "¦"],
  ["a waiver", "settings", "format: ringrule/settings/1\nwaivers:\n  - ¦\n"],
];

/** Hovers: the schema, and a document with the cursor in each key or word that is asked. */
export const HOVERS = [
  [
    "board",
    "for¦mat: ringrule/board/1\nbo¦ard: { i¦d: FL-90, ma¦de: 1994 }\nmoun¦ting: sta¦ples\npro¦file: round\n" +
      "un¦its: mm\nme¦tal: 30 %\nuncer¦tainty: 0.05\nwi¦res:\n  rin¦gs: 16 SWG\nri¦ngs:\n  treble_¦outer:\n" +
      "    rad¦ius: 107.0\n    ed¦ge: out¦side\nwid¦ths:\n  tre¦ble: { wi¦dth: 8.0, ed¦ge: inside }\n",
  ],
  [
    "table",
    "format: ringrule/table/1\nti¦tle: House rules\nsou¦rce: { docu¦ment: House rules, prove¦nance: house rule }\n" +
      "exte¦nds: wdf\ndeci¦sion: { ru¦le: guarded }\nlim¦its:\n  treble_width:\n    measu¦rand: treble.width\n" +
      "    ed¦ge: inside\n    wh¦en: { profile: round }\n    nomi¦nal: 8.0 mm\n    tole¦rance: 0.2 mm\n",
  ],
  ["event", "format: ringrule/event/1\nna¦me: Autumn inspection\n"],
  ["settings", "format: ringrule/settings/1\nta¦ble: wdf\nwai¦vers: []\n"],
];
