// The pages and drawings are valid, by the Nu Html Checker.

import { createRequire } from "node:module";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";

import { run } from "./run.mjs";
import { check } from "./tally.mjs";

const VNU = createRequire(import.meta.url).resolve("vnu-jar/build/dist/vnu.jar");

/** Properties that browsers know and the checker's list of CSS does not (SVG 2, 13.9). */
const UNLISTED = /CSS: “paint-order”: Property “paint-order” doesn't exist/;

export async function markup(files) {
  const args = ["--stdout", "--format", "json", "--also-check-svg", "--exit-zero-always"];
  const { code, out, err } = await run("java", "-Xss8m", "-jar", VNU, ...args, ...files);
  await check("the checker of markup ran", ({ equal, holds }) => {
    equal("exit code", code, 0);
    holds("output", out.includes('"messages"'), "a list of messages", out + err);
  });
  const { messages = [] } = JSON.parse(out || "{}");
  for (const file of files) {
    await check(`${basename(file)}: valid markup`, ({ holds, fail }) => {
      const own = messages.filter(({ url }) => url && fileURLToPath(url) === file);
      for (const { type, subType, message, lastLine, extract = "" } of own) {
        const line = `line ${lastLine}: ${message} ${extract.replace(/\s+/g, " ")}`;
        if (type !== "info" && !UNLISTED.test(message)) fail(type, "nothing", line);
        else if (subType === "warning") console.log(`note  ${basename(file)}: ${line}`);
      }
      holds("messages", true);
    });
  }
  await check("no other messages of the checker", ({ equal }) => {
    const known = new Set(files);
    equal("messages", messages.filter(({ url }) => !url || !known.has(fileURLToPath(url))), []);
  });
}
