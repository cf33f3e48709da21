// The browser, and what is said where it is not there.
import { existsSync } from "node:fs";

import { chromium } from "playwright-core";

const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export function needed(path, help) {
  if (!path || !existsSync(path)) throw new Error(`${path || "nothing"} is not there: ${help}`);
  return path;
}

export function launch() {
  const places = [process.env.CHROMIUM, "/usr/bin/chromium", "/usr/bin/chromium-browser"];
  const place = places.find((path) => path && existsSync(path));
  return chromium.launch({ executablePath: needed(place, "install chromium, or name it in CHROMIUM"), headless: true, args: FLAGS });
}
