// The schemas as ajv reads them in its strict mode: node schemas.mjs FOLDER, from the top
// folder. They compile, every good file of the project meets the schema of its format, and so
// does every JSON in FOLDER, which the program has printed.

import { readFileSync, readdirSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

import Ajv2020 from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { CORE_SCHEMA, load } from "js-yaml";

import { check } from "../pages/tally.mjs";

const [folder] = process.argv.slice(2);
const here = dirname(fileURLToPath(import.meta.url));

// What editors read beside JSON Schema. Any other keyword that ajv does not know is a fault.
const EDITORS = [
  "defaultSnippets",
  "markdownDescription",
  "markdownEnumDescriptions",
  "patternErrorMessage",
];
const SCHEMAS = [
  ...readdirSync("specs").filter((name) => name.endsWith(".schema.json")).map((name) => join("specs", name)),
  "tolerances/table.schema.json",
];
const FOLDERS = ["specs/demo", "specs/areas", "specs/events", "specs/season", "tolerances", join(folder, "made")];

const json = (path) => JSON.parse(readFileSync(path, "utf8"));
const kind = (path) => basename(path, ".schema.json");

/** A validator that takes every warning for an error. */
function strict(Ajv) {
  const refuse = (text) => {
    throw new Error(text);
  };
  const ajv = new Ajv({
    strict: true,
    strictTypes: true,
    strictTuples: true,
    // A length is a number or a text with its unit.
    allowUnionTypes: true,
    allErrors: true,
    logger: { log() {}, warn: refuse, error: refuse },
  });
  addFormats(ajv);
  return ajv;
}

/** The validators by the name of their format, such as `board`. */
async function compiled() {
  const validators = new Map();
  await check("ajv: every schema compiles in strict mode", ({ equal, fail }) => {
    for (const path of SCHEMAS) {
      const ajv = strict(Ajv2020);
      ajv.addVocabulary(EDITORS);
      try {
        validators.set(kind(path), ajv.compile(json(path)));
        equal(path, true, true);
      } catch (error) {
        fail(path, "a schema", String(error));
      }
    }
  });
  return validators;
}

/** Whether a document meets the schema that its own `format` names. */
function meets(validators, { holds, fail }, path, document) {
  const name = /^ringrule\/([a-z-]+)\/[0-9]+$/.exec(document?.format ?? "")?.[1];
  const validate = validators.get(name);
  if (!validate) return fail(path, "a format with a schema", String(document?.format));
  return holds(path, validate(document), "no error", validate.errors);
}

/** Files below a folder whose names end so. */
function files(top, ending) {
  const found = readdirSync(top, { withFileTypes: true }).map((entry) => {
    const path = join(top, entry.name);
    return entry.isDirectory() ? files(path, ending) : path;
  });
  return found.flat().filter((path) => path.endsWith(ending)).sort();
}

const yaml = (path) => load(readFileSync(path, "utf8"), { schema: CORE_SCHEMA });

async function documents(validators) {
  const formats = new Set();
  for (const top of FOLDERS) {
    const named = top.startsWith(folder) ? "a production run that was taken in" : top;
    await check(`ajv: the files of ${named} meet their schemas`, (looked) => {
      for (const path of files(top, ".yaml")) {
        const document = yaml(path);
        meets(validators, looked, path, document);
        formats.add(document.format);
      }
    });
  }
  await check("ajv: what the program prints meets its schemas", (looked) => {
    const lines = (path) => readFileSync(path, "utf8").trimEnd().split("\n");
    const printed = [
      ...files(folder, ".json").map((path) => [basename(path), json(path)]),
      ...files(folder, ".jsonl").flatMap((path) => lines(path).map((line) => [basename(path), JSON.parse(line)])),
    ];
    for (const [name, document] of printed) {
      meets(validators, looked, name, document);
      formats.add(document.format);
    }
  });
  await check("ajv: no schema is left out", ({ equal }) => {
    const met = [...formats].map((format) => format.split("/")[1]);
    equal("formats", [...new Set(met)].sort(), SCHEMAS.map(kind).sort());
  });
}

/** A schema that accepts everything would pass all of the above. */
async function refused(validators) {
  // Faults that can be told without knowing what a board is.
  const names = ["missing-edge", "missing-format", "missing-mounting", "unknown-key", "unknown-word", "wrong-format"];
  await check("ajv: files with faults of form are refused", ({ holds }) => {
    for (const name of names) {
      const validate = validators.get("board");
      const refused = !validate(yaml(`specs/broken/${name}.yaml`));
      holds(name, refused, "an error", "none");
    }
  });
}

/** SARIF against the schema that the multitool brings along, also of draft 2020-12. */
async function sarif() {
  const path = join(here, "node_modules/@microsoft/sarif-multitool-linux/sarif-2.1.0.json");
  await check("ajv: SARIF meets the schema of SARIF 2.1.0", ({ holds, equal }) => {
    // Not in strict mode: the schema is not ours.
    const ajv = new Ajv2020({ strict: false, allErrors: true });
    addFormats(ajv);
    const validate = ajv.compile(json(path));
    const logs = files(folder, ".sarif");
    equal("logs", logs.length, 6);
    for (const log of logs) holds(basename(log), validate(json(log)), "no error", validate.errors);
    const spoilt = json(logs[0]);
    spoilt.runs[0].results[0].level = "grave";
    holds("a level that there is not", !validate(spoilt), "an error", "none");
  });
}

const validators = await compiled();
await documents(validators);
await refused(validators);
await sarif();
