// Schemas as an editor uses them, with the YAML language server: node editor.mjs [--renew], from
// the top folder. What it completes, explains and marks is compared with `snapshots`; what it
// inserts must be YAML, and a key must come with its colon.

import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

import { CORE_SCHEMA, load } from "js-yaml";

import { check } from "../pages/tally.mjs";
import { COMPLETIONS, HOVERS } from "./cursors.mjs";
import { Server } from "./lsp.mjs";

const renew = process.argv[2] === "--renew";
const here = dirname(fileURLToPath(import.meta.url));
const SCHEMAS = {
  board: "../board.schema.json",
  table: "../../tolerances/table.schema.json",
  event: "../event.schema.json",
  settings: "../settings.schema.json",
};
// `CompletionItemKind` and `InsertTextFormat` of the protocol.
const PROPERTY = 10;
const SNIPPET = 2;
const SEVERITIES = ["", "error", "warning", "information", "hint"];

const address = (path) => pathToFileURL(resolve(path)).href;
// Which schema is whose, for files without a line that says so.
const schemas = {
  [address("specs/board.schema.json")]: ["specs/broken/*.yaml", "specs/season/20*/*.yaml"],
  [address("specs/event.schema.json")]: ["specs/broken/events/*.yaml"],
  [address("tolerances/table.schema.json")]: ["specs/broken/tables/*.yaml"],
};
// Nothing is fetched: the store of other people's schemas stays shut.
const yaml = { validate: true, hover: true, completion: true, schemaStore: { enable: false }, schemas };
const server = new Server(
  process.execPath,
  [join(here, "node_modules/yaml-language-server/bin/yaml-language-server"), "--stdio"],
  { yaml, http: {}, "[yaml]": {}, editor: {}, files: {} },
);

let opened = 0;

/** Opens a document that lies nowhere, and says where its cursors are. */
async function write(schema, marked) {
  const text = `# yaml-language-server: $schema=${SCHEMAS[schema]}\n${marked}`;
  const [first, ...rest] = text.split("¦");
  const cursors = [];
  let before = first;
  for (const part of rest) {
    const lines = before.split("\n");
    cursors.push({ line: lines.length - 1, character: lines.at(-1).length });
    before += part;
  }
  opened += 1;
  const uri = address(`specs/demo/written-${opened}.yaml`);
  await server.open(uri, before);
  return { textDocument: { uri }, text: before, cursors };
}

/** A snippet as it stands when whoever types goes on without filling anything in. */
const plain = (snippet) =>
  snippet
    .replace(/\$\{\d+\|([^,|]*)[^|]*\|\}/g, "$1")
    .replace(/\$\{\d+:((?:[^}\\]|\\.)*)\}/g, "$1")
    .replace(/\$\{?\d+\}?/g, "")
    .replace(/\\([$}\\])/g, "$1");

const inserted = ({ textEdit, insertText, label }) => textEdit?.newText ?? insertText ?? label;

/** The text after somebody has taken what was offered. */
function taken(item, text, cursor) {
  const lines = text.split("\n");
  const at = ({ line, character }) =>
    lines.slice(0, line).reduce((sum, before) => sum + before.length + 1, 0) + character;
  const { start, end } = item.textEdit?.range ?? { start: cursor, end: cursor };
  // Lines of a snippet go on as far in as the line on which it is put.
  const margin = /^ */.exec(lines[start.line])[0];
  const words = inserted(item);
  const put = (item.insertTextFormat === SNIPPET ? plain(words) : words).replaceAll("\n", `\n${margin}`);
  return text.slice(0, at(start)) + put + text.slice(at(end));
}

/** How often a document says something, as a key and as a value. */
function count(document, word) {
  if (Array.isArray(document)) {
    const counts = document.map((item) => count(item, word));
    return [0, 1].map((at) => counts.reduce((sum, one) => sum + one[at], 0));
  }
  if (document === null || typeof document !== "object") return [0, String(document) === word ? 1 : 0];
  const [keys, values] = count(Object.values(document), word);
  return [keys + Object.keys(document).filter((key) => key === word).length, values];
}

function parsed(text) {
  try {
    return { document: load(text, { schema: CORE_SCHEMA }) };
  } catch (error) {
    return { error: String(error) };
  }
}

/** Whether a document with what was offered is YAML and says it once more than before. */
function sound(item, text, cursor) {
  const { document, error } = parsed(taken(item, text, cursor));
  if (error) return error;
  const before = parsed(text).document;
  if (!(document && typeof document === "object")) return "no mapping";
  const at = item.kind === PROPERTY ? 0 : 1;
  // A whole group is offered by a name of its own, which is not inserted.
  if (!inserted(item).includes(item.label)) return true;
  return count(document, item.label)[at] === count(before, item.label)[at] + 1 || "it is not there";
}

async function completions() {
  const lines = [];
  const offers = [];
  for (const [what, schema, marked] of COMPLETIONS) {
    const { textDocument, text, cursors } = await write(schema, marked);
    const answer = await server.ask("textDocument/completion", { textDocument, position: cursors[0] });
    lines.push(`== ${what}`);
    const items = answer.items.map((item) => [item.sortText ?? item.label, item]);
    for (const [, item] of items.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))) {
      const explained = item.documentation ? "" : ", unexplained";
      lines.push(`${item.label}: ${JSON.stringify(inserted(item))}${explained}`);
      offers.push([what, item, text, cursors[0]]);
    }
    lines.push("");
  }
  await check("language server: what it inserts is YAML", ({ holds }) => {
    for (const [what, item, text, cursor] of offers) {
      // A whole file is offered at the top level of any: it is for an empty one.
      if (inserted(item).startsWith("format: ringrule/board/1\n") && text.trim()) continue;
      const found = sound(item, text, cursor);
      holds(`${what}: ${JSON.stringify(inserted(item))}`, found === true, "YAML with it", found);
    }
  });
  await snapshot("completions", lines);
}

async function hovers() {
  const lines = [];
  for (const [schema, marked] of HOVERS) {
    const { textDocument, text, cursors } = await write(schema, marked);
    for (const position of cursors) {
      const answer = await server.ask("textDocument/hover", { textDocument, position });
      const line = text.split("\n")[position.line];
      const start = line.slice(0, position.character).search(/\w*$/);
      const word = /^\w*/.exec(line.slice(start))[0];
      lines.push(`== ${schema}: ${word}, in \`${line.trim()}\``, told(answer), "");
    }
  }
  await snapshot("hovers", lines);
}

/** An explanation, without the place where this folder happens to lie. */
const told = (answer) => answer?.contents.value.trim().replaceAll(`${address(".")}/`, "") ?? "nothing";

/** Files below a folder that are YAML in UTF-8. */
function files(top) {
  const entries = readdirSync(top, { withFileTypes: true });
  const found = entries.map((entry) => {
    const path = join(top, entry.name);
    return entry.isDirectory() ? files(path) : path;
  });
  // An editor shows that one in other characters than it has.
  const usable = found.flat().filter((path) => path.endsWith(".yaml") && !path.endsWith("not-utf8.yaml"));
  return usable.sort();
}

/** The diagnostics of the files in a folder, as lines. */
async function marked(top) {
  const found = files(top).map(async (path) => {
    const faults = await server.open(address(path), readFileSync(path, "utf8"));
    const lines = faults.map(({ range: { start }, severity, message }) => {
      const words = message.replaceAll("\n", " ");
      return `${start.line + 1}:${start.character + 1} ${SEVERITIES[severity]}: ${words}`;
    });
    return [path, lines];
  });
  return await Promise.all(found);
}

async function diagnostics() {
  await check("language server: it marks nothing in good files", async ({ equal }) => {
    for (const top of ["specs/demo", "specs/areas", "specs/season", "specs/events", "tolerances"]) {
      for (const [path, lines] of await marked(top)) equal(path, lines, []);
    }
  });
  const lines = [];
  for (const [path, found] of await marked("specs/broken")) {
    // What no schema can say is told by the program alone.
    lines.push(`== ${relative("specs/broken", path)}`, ...(found.length > 0 ? found : ["nothing"]), "");
  }
  await snapshot("diagnostics", lines);
}

/** Compares with what was found before. */
async function snapshot(name, lines) {
  const path = join(here, "snapshots", `${name}.txt`);
  if (renew) writeFileSync(path, lines.join("\n"));
  const what = `language server: ${name} are those of the snapshot; a wanted change needs --renew`;
  await check(what, ({ equal, fail }) => {
    // By what was asked, so that what is told of a change is short.
    const parts = (text) => new Map(text.split(/^== /m).slice(1).map((part) => part.split(/\n([^]*)/)));
    const [found, kept] = [parts(lines.join("\n")), parts(readFileSync(path, "utf8"))];
    const gone = [...kept.keys()].filter((asked) => !found.has(asked));
    equal("what is asked no more", gone, []);
    for (const [asked, said] of found) {
      if (!kept.has(asked)) {
        // Another fault to show: nothing is wrong with it, and it waits for the next renewal.
        console.log(`note  the snapshot of ${name} lacks ${asked}: --renew puts it there`);
        continue;
      }
      const [now, before] = [said.split("\n"), kept.get(asked).split("\n")];
      const less = (all, others) => all.filter((line) => !others.includes(line)).join("\n");
      if (now.join("\n") === before.join("\n")) equal(asked, true, true);
      else fail(asked, less(before, now) || "other lines, or another order", less(now, before) || "fewer");
    }
  });
}

await server.start();
try {
  await completions();
  await hovers();
  await diagnostics();
} finally {
  await server.stop();
}
