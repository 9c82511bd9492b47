// Looks at pages in the system's Chromium and writes down what it sees, as JSON on standard output.
//   node look.mjs JOB.json      {"browser": path, "pages": [{"name", "file", "looks": "all" or "light"}], "widths": [360], "papers": ["A4"], "shots": folder or null}
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";

const require = createRequire(import.meta.url);
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const job = JSON.parse(readFileSync(process.argv[2], "utf8"));
const quiet = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync",
];
const everything = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const contrast = { type: "rule", values: ["color-contrast"] }; // on paper nothing is pressed or heard

// run inside the page: what sticks out sideways, and texts of drawings that leave them or lie on one another
function measure() {
  // a line of text is given room above and below its letters
  const inked = (box) => new DOMRect(box.left, box.top + 0.16 * box.height, box.width, 0.64 * box.height);
  const wide = document.documentElement.clientWidth;
  const faults = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (!node.data.trim() || node.parentElement.closest("style, title, desc, .scroll")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.right > wide + 0.5 || box.left < -0.5) faults.push(`cut: ${node.data.trim().slice(0, 60)}`);
    }
  }
  for (const svg of document.querySelectorAll("svg.drawing")) {
    const frame = svg.getBoundingClientRect();
    const boxes = [...svg.querySelectorAll("text")].map((text) => [
      text.textContent, inked(text.getBoundingClientRect()),
    ]);
    boxes.forEach(([said, box], n) => {
      if (box.left < frame.left || box.right > frame.right || box.top < frame.top || box.bottom > frame.bottom) {
        faults.push(`outside its drawing: ${said}`);
      }
      for (const [other, its] of boxes.slice(n + 1)) {
        if (box.left < its.right && its.left < box.right && box.top < its.bottom && its.top < box.bottom) {
          faults.push(`numbers on one another: ${said} and ${other}`);
        }
      }
    });
  }
  const small = [...document.querySelectorAll("input, nav a")].filter((one) => {
    const box = one.getBoundingClientRect();
    return box.width < 24 || box.height < 24;
  }).length;
  return { scroll: document.documentElement.scrollWidth, wide, faults: [...new Set(faults)], small };
}

async function violations(page, rules = everything) {
  await page.evaluate(axe);
  const found = await page.evaluate((runOnly) => axe.run(document, { runOnly }), rules);
  return found.violations.map((v) => `${v.id}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(" | ")}`);
}

const browser = await chromium.launch({ executablePath: job.browser, args: quiet });
const seen = {};
for (const { name, file, looks } of job.pages) {
  const page = await browser.newPage();
  const outside = [];
  page.on("request", (asked) => { if (!asked.url().startsWith("file:")) outside.push(asked.url()); });
  await page.goto(`file://${file}`);
  const one = { widths: {}, axe: {}, outside };
  for (const width of job.widths) {
    await page.setViewportSize({ width, height: 900 });
    one.widths[width] = await page.evaluate(measure);
    if (job.shots) {
      for (const colorScheme of ["light", "dark"]) {
        await page.emulateMedia({ colorScheme });
        await page.screenshot({ path: `${job.shots}/${name}-${width}-${colorScheme}.png`, fullPage: true });
      }
    }
  }
  await page.emulateMedia({ media: "screen", colorScheme: "light" });
  one.axe.light = await violations(page);
  if (looks === "all") {
    await page.emulateMedia({ media: "screen", colorScheme: "dark" });
    one.axe.dark = await violations(page, contrast);
    await page.evaluate(() => document.querySelectorAll("input").forEach((box) => { box.checked = true; }));
    one.axe.ticked = await violations(page, contrast);
    await page.evaluate(() => document.querySelectorAll("input").forEach((box) => { box.checked = false; }));
    await page.emulateMedia({ media: "print", colorScheme: "light" });
    one.axe.print = await violations(page, contrast);
  }
  await page.emulateMedia({ media: null, colorScheme: null });
  for (const format of job.papers) {
    await page.pdf({ path: `${file}.${format}.pdf`, format, preferCSSPageSize: true });
  }
  seen[name] = one;
  await page.close();
}
await browser.close();
console.log(JSON.stringify(seen));
