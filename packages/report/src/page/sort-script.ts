/** Lets the heads of a table with the class "sortable" sort its rows; without it the table reads as it stands. */
export const sortScript = `
for (const table of document.querySelectorAll("table.sortable")) {
  const body = table.tBodies[0];
  const key = (row, column) => row.cells[column].dataset.key ?? row.cells[column].textContent.trim();
  const compare = (a, b) => {
    const [x, y] = [Number(a), Number(b)];
    const numbers = a !== "" && b !== "" && !Number.isNaN(x) && !Number.isNaN(y);
    return numbers ? x - y : a === "" || b === "" ? (a === "") - (b === "") : a < b ? -1 : a > b ? 1 : 0;
  };
  for (const head of table.tHead.rows[0].cells) {
    if (!head.dataset.sorts) continue;
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending";
      for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const rows = [...body.rows];
      rows.sort((a, b) => compare(key(a, head.cellIndex), key(b, head.cellIndex)) * (down ? -1 : 1));
      body.append(...rows);
    });
  }
}
`;
