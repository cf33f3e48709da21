for (const table of document.querySelectorAll("table.sorts")) {
  const heads = [...table.tHead.rows[0].cells], body = table.tBodies[0];
  heads.forEach((head, at) => {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...head.childNodes);
    head.append(button);
    const key = (row) => row.cells[at].dataset.value ?? row.cells[at].textContent.trim();
    const order = (a, b) => {
      const [x, y] = [key(a), key(b)];
      if (x === "" || y === "") return (x === "") - (y === "");
      return Number.isNaN(x - y) ? x.localeCompare(y) : x - y;
    };
    button.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending";
      heads.forEach((one) => one.removeAttribute("aria-sort"));
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const rows = [...body.rows].sort(order);
      body.append(...(down ? rows.reverse() : rows));
    });
  });
}
