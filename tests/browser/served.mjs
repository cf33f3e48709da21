// A live page on a folder of its own, and a browser that looks at it.
import { spawn } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { execFileSync } from "node:child_process";

// Starts the program and gives its address and how to end it.
export async function serve(program, args, cwd) {
  const child = spawn(program, ["live", "--no-open", ...args], { cwd, stdio: ["ignore", "pipe", "ignore"] });
  const url = await new Promise((done, failed) => {
    let said = "";
    child.stdout.on("data", (part) => (said += part).includes("\n") && done(said.trim()));
    child.on("exit", () => failed(new Error(`live ended: ${args.join(" ")}`)));
  });
  const ended = new Promise((done) => child.on("exit", done));
  return { url, port: new URL(url).port, pid: child.pid, kill: () => (child.kill("SIGKILL"), ended) };
}

// Opens the page; every word on the console is a fault, and so is every request that leaves the server.
export async function open(browser, url, options = {}, faults = []) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true, ...options });
  const page = await context.newPage();
  page.on("console", (message) => faults.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => faults.push(`console: ${error}`));
  page.on("request", (request) => {
    const { protocol, host } = new URL(request.url());
    if (!["data:", "blob:"].includes(protocol) && host !== new URL(url).host) faults.push(`request: ${request.url()}`);
  });
  await page.goto(url);
  return page;
}

// Waits until a piece of the answer came, while something is done.
export async function after(page, event, does) {
  const came = page.evaluate(
    (name) => new Promise((done) => document.addEventListener(name, ({ detail }) => done(detail ?? 0), { once: true })),
    event,
  );
  await does();
  return Promise.race([came, new Promise((_, failed) => setTimeout(() => failed(new Error(`no ${event} came`)), 20_000))]);
}

// A brief of thirty candidates of the larder, with prices that follow from their names.
export function thirty(program, file) {
  const larder = JSON.parse(execFileSync(program, ["larder", "--format", "json"], { encoding: "utf8", maxBuffer: 1 << 26 })).ingredients;
  const of = (role, count) => larder.filter((one) => one.role === role && one.form !== "powder").slice(0, count);
  const picked = [...of("base", 8), ...of("modifier", 8), ...of("sour", 5), ...of("sweetener", 5), ...of("lengthener", 4)];
  if (picked.length !== 30) throw new Error(`${picked.length} candidates instead of 30`);
  const price = ({ name, role }) => ({ base: 18, modifier: 13, sour: 7, sweetener: 4, lengthener: 2 })[role] + (name.length % 7);
  const candidates = picked.map((one) => `[[candidate]]\nlarder = ${JSON.stringify(one.name)}\nprice = "${price(one)} per 700 ml"\n`);
  const groups = ["base", "sour", "sweetener"].map((role) => `[[choose]]\nrole = "${role}"\nmin = 1\nmax = 2\n`);
  writeFileSync(
    file,
    `title = "Thirty"\ncurrency = "GBP"\n[serve]\nmethod = "shake"\npour = "2.5 ml"\nsmallest = "5 ml"\nmost = 6\n[targets]\n` +
      `volume = { min = 90, max = 115 }\nstrength = { min = 11, max = 14 }\nsugar = { min = 60, max = 80 }\nacid = { min = 6.5, max = 8.5 }\n` +
      `[aim]\nlowest = "cost"\n${groups.join("")}${candidates.join("")}`,
  );
}

export function memory(pid) {
  return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))[1]) / 1024;
}

export function median(times, share = 0.5) {
  return [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor(times.length * share))];
}
