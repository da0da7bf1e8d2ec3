// Runs other programs, two at a time.

import { execFile } from "node:child_process";
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

const AT_ONCE = 2;
let running = 0;
const waiting = [];

/** Exit code, standard output and standard error of a program. */
export async function run(program, ...args) {
  if (running >= AT_ONCE) await new Promise((go) => waiting.push(go));
  running += 1;
  try {
    return await new Promise((resolve) => {
      execFile(program, args, { maxBuffer: 1 << 28, encoding: "utf8" }, (error, out, err) =>
        resolve({ code: error ? (error.code ?? error.signal) : 0, out, err }),
      );
    });
  } finally {
    running -= 1;
    waiting.shift()?.();
  }
}

/** What a program that must succeed printed. */
export async function output(program, ...args) {
  const { code, out, err } = await run(program, ...args);
  if (code !== 0) throw new Error(`${program} ${args.join(" ")} ended with ${code}: ${err}`);
  return out;
}

/** The first of these programs that is on the path. */
export function find(...names) {
  for (const name of names) {
    for (const folder of (process.env.PATH ?? "").split(delimiter)) {
      const path = join(folder, name);
      try {
        accessSync(path, constants.X_OK);
        return path;
      } catch {
        // Not in this folder.
      }
    }
  }
  return undefined;
}
