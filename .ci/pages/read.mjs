// What a reader finds on a report's page, as data. Runs in the page.

export function read() {
  const text = (element) => (element?.textContent ?? "").replace(/\s+/g, " ").trim();
  const table = (element) => ({
    heads: [...element.querySelectorAll("thead th")].map(text),
    rows: [...element.querySelectorAll("tr[data-key]")].map((row) => ({
      key: row.dataset.key,
      cells: [...row.cells].map(text),
    })),
  });
  const facts = (part) =>
    Object.fromEntries(
      [...part.querySelectorAll("dl.facts > div")].map((fact) => [
        text(fact.querySelector("dt")),
        text(fact.querySelector("dd")),
      ]),
    );
  return [...document.querySelectorAll("article.part")].map((part) => ({
    id: part.id,
    title: text(part.querySelector("h2")),
    verdict: text(part.querySelector(".verdict strong")),
    sentence: text(part.querySelector(".verdict")),
    facts: facts(part),
    tables: [...part.querySelectorAll("table")].map(table),
    points: [...part.querySelectorAll("ul.points li")].map(text),
    drawings: [...part.querySelectorAll("figure.boards svg")].map((drawing) =>
      [...drawing.querySelectorAll("text")].map(text).join(" "),
    ),
    bands: [...part.querySelectorAll("g.band")].map((band) => ({
      label: band.getAttribute("aria-label"),
      // The name of a small band stands beside it, before its figure.
      figure: text([...band.children].filter((child) => child.localName === "text").at(-1)),
    })),
  }));
}
