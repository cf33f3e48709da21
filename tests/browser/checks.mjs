// What has to hold for a page in a browser: each check gives the faults that it found.
import { statSync } from "node:fs";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const MOST_BYTES = 200_000;

// Opens a page at a width and in a colour scheme and gives all faults, each with the check that found it.
export async function faults(browser, { file }, width, colorScheme) {
  const context = await browser.newContext({ viewport: { width, height: 900 }, colorScheme });
  const found = [];
  const add = (check, list) => list.forEach((what) => found.push({ check, what }));
  try {
    const page = await context.newPage();
    const address = pathToFileURL(file).href;
    page.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) add("console", [message.text()]);
    });
    page.on("pageerror", (error) => add("console", [String(error)]));
    page.on("request", (request) => {
      if (request.url().split("#")[0] !== address) add("request", [request.url()]);
    });
    await page.goto(address, { waitUntil: "load" });
    add("size", statSync(file).size < MOST_BYTES ? [] : [`${statSync(file).size} bytes`]);
    add("overflow", await page.evaluate(overflow));
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => (one.open = true)));
    add("overflow", await page.evaluate(overflow));
    const pictures = await page.evaluate(picturesSeen);
    for (const { check, what } of pictures) add(check, [what]);
    add("axe", await accessible(page));
  } finally {
    await context.close();
  }
  return found;
}

function overflow() {
  const { scrollWidth, clientWidth } = document.documentElement;
  return scrollWidth > clientWidth ? [`${scrollWidth} px in a window of ${clientWidth} px`] : [];
}

// Runs in the page: every outermost picture has size; its text is legible, whole and lies on no other text.
function picturesSeen() {
  const found = [];
  const outermost = [...document.querySelectorAll("svg")].filter((svg) => !svg.parentElement.closest("svg"));
  const called = (svg) => svg.getAttribute("class") ?? "picture";
  for (const svg of outermost.filter((svg) => !svg.classList.contains("defs"))) {
    const frame = svg.getBoundingClientRect();
    if (frame.width < 1 || frame.height < 1) found.push({ check: "picture", what: `${called(svg)} has no size` });
    const texts = [...svg.querySelectorAll("text")].map((text) => ({ text, box: text.getBoundingClientRect() }));
    texts.forEach(({ text, box }, at) => {
      const says = `${called(svg)}: "${text.textContent}"`;
      const out = box.left < frame.left - 2 || box.right > frame.right + 2 || box.top < frame.top - 2 || box.bottom > frame.bottom + 2;
      if (out) found.push({ check: "cut", what: `${says} is cut off` });
      if (box.height < 10) found.push({ check: "tiny", what: `${says} is ${box.height.toFixed(1)} px high` });
      for (const other of texts.slice(at + 1)) {
        const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
        const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
        // The boxes hold more than the letters: a few pixels of height are air.
        if (across > 1 && down > 4) found.push({ check: "overlap", what: `${says} lies on "${other.text.textContent}"` });
      }
    });
  }
  return found;
}

async function accessible(page) {
  // Evaluated and not put into the page, whose policy lets no script in.
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, help, nodes }) => `${id}: ${help} (${nodes.length}, first: ${nodes[0].html.slice(0, 160)})`);
}
