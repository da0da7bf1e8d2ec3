// Counts checks, and says of each that fails what was expected and found.

const SHOWN = 8;
let passed = 0;
let failed = 0;

const short = (value) => {
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return text.length > 400 ? `${text.slice(0, 400)}… (${text.length} characters)` : text;
};

/**
 * One check. `body` is given `equal(where, found, expected)` and
 * `fail(where, expected, found)`. A check that looked at nothing has failed:
 * otherwise a page that lost a table would pass every check of that table.
 */
export async function check(name, body) {
  const faults = [];
  let looked = 0;
  const fail = (where, expected, found) => {
    looked += 1;
    faults.push(`${where}: expected ${short(expected)}, found ${short(found)}`);
  };
  const holds = (where, condition, expected, found) => {
    if (condition) looked += 1;
    else fail(where, expected, found);
  };
  const equal = (where, found, expected) =>
    holds(where, JSON.stringify(found) === JSON.stringify(expected), expected, found);
  try {
    await body({ equal, holds, fail });
    if (looked === 0) fail("the check itself", "something to look at", "nothing");
  } catch (error) {
    fail("the check itself", "to run to its end", String(error?.stack ?? error));
  }
  if (faults.length === 0) {
    passed += 1;
    console.log(`ok    ${name} (${looked})`);
    return;
  }
  failed += 1;
  console.log(`FAIL  ${name}: ${faults.length} of ${looked}`);
  for (const fault of faults.slice(0, SHOWN)) console.log(`      - ${fault.replaceAll("\n", "\n        ")}`);
  if (faults.length > SHOWN) console.log(`      - and ${faults.length - SHOWN} more like these`);
}

/** Prints the closing line; whether all passed. */
export function close() {
  console.log(`\n${passed} passed, ${failed} failed`);
  return failed === 0;
}
