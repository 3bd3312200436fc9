"use strict";
// Tables: a button in each heading sorts, one above each table copies it. On paper everything is opened.
(() => {
  const shown = (cell) => (cell.querySelector("summary") ?? cell).textContent.trim();

  function sortable(table) {
    const body = table.tBodies[0];
    const first = [...body.rows];
    if (first.length < 2) return;
    const heads = [...table.tHead.rows[0].cells];
    heads.forEach((head, column) => {
      const button = document.createElement("button");
      button.type = "button";
      head.dataset.name = head.textContent.replaceAll("_", "_\u200b"); // for paper, where it may break
      button.append(...head.childNodes);
      head.append(button);
      button.addEventListener("click", () => {
        const next = { none: "ascending", ascending: "descending", descending: "none" };
        const way = next[head.getAttribute("aria-sort") ?? "none"];
        for (const other of heads) other.removeAttribute("aria-sort");
        if (way !== "none") head.setAttribute("aria-sort", way);
        body.append(...ordered(first, column, way));
      });
    });
  }

  function ordered(rows, column, way) {
    if (way === "none") return rows;
    const sign = way === "ascending" ? 1 : -1;
    const keyed = rows.map((row) => {
      const cell = row.cells[column];
      return { row, text: shown(cell), key: "key" in cell.dataset ? Number(cell.dataset.key) : null };
    });
    const empty = keyed.filter((entry) => entry.text === "");
    const filled = keyed.filter((entry) => entry.text !== "");
    const numbers = filled.every((entry) => entry.key !== null);
    const words = new Intl.Collator("en", { numeric: true });
    filled.sort((a, b) => sign * (numbers ? a.key - b.key : words.compare(a.text, b.text)));
    return [...filled, ...empty].map((entry) => entry.row);
  }

  function copyable(table) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "copy";
    button.textContent = "Copy table";
    button.setAttribute("aria-label", `Copy table: ${table.caption.textContent}`);
    const said = document.createElement("span");
    said.className = "said";
    said.setAttribute("role", "status");
    button.addEventListener("click", async () => {
      const text = [...table.rows].map((row) => [...row.cells].map(shown).join("\t")).join("\n");
      said.textContent = (await copy(text)) ? "Copied" : "Could not copy: select the table by hand";
      setTimeout(() => { said.textContent = ""; }, 4000);
    });
    table.parentElement.before(button, said);
  }

  async function copy(text) {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      const area = document.createElement("textarea");
      area.value = text;
      document.body.append(area);
      area.select();
      const done = document.execCommand("copy");
      area.remove();
      return done;
    }
  }

  for (const table of document.querySelectorAll("main table")) {
    if (table.closest("#picked, .step")) continue;
    sortable(table);
    copyable(table);
  }

  let closed = [];
  addEventListener("beforeprint", () => {
    closed = [...document.querySelectorAll("td details:not([open]), .sheet:not([open]), .step:not([open])")];
    for (const details of closed) details.open = true;
  });
  addEventListener("afterprint", () => {
    for (const details of closed) details.open = false;
  });
  const openTarget = () => {
    const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (target instanceof HTMLDetailsElement) target.open = true;
  };
  addEventListener("hashchange", openTarget);
  document.querySelector("nav").addEventListener("focusin", (event) => {
    event.target.scrollIntoView({ block: "nearest", inline: "nearest" });
  });
  for (const link of document.querySelectorAll("main a[href^='#']")) link.addEventListener("click", () => setTimeout(openTarget));
  openTarget();
})();
