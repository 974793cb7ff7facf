// The HTML report in a real browser (Debian's chromium, headless): no console
// error, no request, every chart drawn, links that lead somewhere, hostile text
// shown as text, nothing cut at 390 and 1280 pixels and on paper.
//
// node report_test.mjs PROGRAM [FOLDER FOR SCREENSHOTS]
// Leaves with 77 (skipped) where chromium or playwright-core is missing.
import assert from "node:assert/strict";
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

function skip(why) {
  console.log(`skipped: ${why}`);
  process.exit(77);
}

const browserPath = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync);
if (!browserPath) skip("chromium is not installed (apt-get install chromium)");
let chromium;
try {
  ({ chromium } = await import("playwright-core"));
} catch {
  skip("playwright-core is not installed (npm ci in tests/browser)");
}
const [program, shots] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "telltale-browser-"));
const evil = "</script><script>window.ran=1</script><img src=x onerror=window.ran=2>";

/** Writes a report and returns its address. */
function report(name, logs, options = []) {
  const file = join(folder, name);
  const done = spawnSync(program, ["report", ...logs, "--html", file, "--quiet", ...options]);
  assert.ok(done.status === 0 || done.status === 1, String(done.stderr));
  return pathToFileURL(file).href;
}
/** A made-up log with a fault; its profile beside it. */
function madeLog(name, fault) {
  const log = join(folder, `${name}.csv`);
  const profile = join(folder, `${name}.toml`);
  execFileSync(program, ["simulate", "--random", "--fault", fault, "--seed", "3",
    "--out", log, "--profile-out", profile]);
  return { log, profile };
}
/** The same log with markup in a header. */
function hostile(log) {
  const lines = readFileSync(log, "utf8").split("\n");
  const head = lines.findIndex((line) => line.split(",").length > 3);
  const out = lines.map((line, i) =>
    i < head || line.trim() === "" ? line : line.trimEnd() + (i === head ? `,"${evil}"` : ",1"));
  const file = join(folder, "hostile.csv");
  writeFileSync(file, out.join("\n"));
  return file;
}

/** What sticks out of the page, or text that is cut. */
function overflowing() {
  const wide = document.documentElement.clientWidth;
  const out = [];
  if (document.documentElement.scrollWidth > wide) out.push(`page ${document.documentElement.scrollWidth} > ${wide}`);
  for (const element of document.querySelectorAll("main *, footer *, header *")) {
    if (element.closest(".scroll, .strip, svg, .plot, details:not([open])")) continue;
    const box = element.getBoundingClientRect();
    if (box.width > 0 && box.right > wide + 1) {
      out.push(`${element.tagName}.${element.className} ${box.right.toFixed(0)} > ${wide}`);
    }
  }
  return out;
}
/** Texts of a drawing that lie over one another or outside it. */
function collisions() {
  const out = [];
  for (const svg of document.querySelectorAll("svg.chart")) {
    const frame = svg.getBoundingClientRect();
    if (frame.width === 0) continue;
    const boxes = [...svg.querySelectorAll("text")].map((t) => [t.textContent, t.getBoundingClientRect()]);
    for (const [text, box] of boxes) {
      if (box.left < frame.left - 1 || box.right > frame.right + 1) out.push(`cut: ${text}`);
    }
    for (let i = 0; i < boxes.length; ++i) {
      for (let k = i + 1; k < boxes.length; ++k) {
        const a = boxes[i][1], b = boxes[k][1];
        const over = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const under = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (over > 2 && under > 4) out.push(`${svg.querySelector("title").textContent}: "${boxes[i][0]}" over "${boxes[k][0]}"`);
      }
    }
  }
  return out;
}

const browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
let failed = 0;
async function test(name, body) {
  try {
    await body();
    console.log(`ok      ${name}`);
  } catch (error) {
    ++failed;
    console.log(`FAILED  ${name}\n        ${String(error.message).slice(0, 2000)}`);
  }
}
/** Opens a report and hears what it asks for and complains of. */
async function open(address, options = {}) {
  const context = await browser.newContext({ viewport: { width: options.width ?? 1280, height: 900 },
    colorScheme: options.scheme ?? "light", javaScriptEnabled: options.script ?? true });
  const page = await context.newPage();
  const heard = [];
  page.on("console", (m) => { if (["error", "warning"].includes(m.type())) heard.push(m.text()); });
  page.on("pageerror", (e) => heard.push(String(e)));
  page.on("request", (r) => { if (r.url() !== address) heard.push(`request ${r.url()}`); });
  await page.goto(address);
  return { page, heard, context };
}
async function wakeAll(page) {
  const count = await page.locator("[data-track]").count();
  for (let i = 0; i < count; ++i) await page.locator("[data-track]").nth(i).scrollIntoViewIfNeeded();
  await page.waitForTimeout(200);
}

try {
  const oil = madeLog("oil", "oil-pressure-fade");
  const hot = madeLog("hot", "coolant-climb");
  const one = report("one.html", [oil.log], ["--profile", oil.profile]);
  const two = report("two.html", [oil.log, hot.log]);
  const bad = report("bad.html", [hostile(oil.log)]);

  for (const width of [390, 1280]) {
    await test(`${width} pixels: quiet, every chart drawn, nothing sticks out`, async () => {
      const { page, heard, context } = await open(one, { width });
      await wakeAll(page);
      const figures = await page.locator("[data-track]").count();
      assert.ok(figures >= 5);
      assert.equal(await page.locator("[data-track] .plot canvas").count(), figures * 2);
      assert.deepEqual(await page.evaluate(overflowing), []);
      assert.deepEqual(await page.evaluate(collisions), []);
      assert.deepEqual(heard, []);
      if (shots) await page.screenshot({ path: join(shots, `report_${width}.png`), fullPage: true });
      await context.close();
    });
  }
  await test("dark: quiet, nothing sticks out", async () => {
    const { page, heard, context } = await open(one, { scheme: "dark" });
    await wakeAll(page);
    assert.deepEqual(heard, []);
    if (shots) await page.screenshot({ path: join(shots, "report_dark.png"), fullPage: true });
    await context.close();
  });
  await test("zoom goes through all charts of a run", async () => {
    const { page, context } = await open(one);
    await wakeAll(page);
    const label = () => page.locator("[data-track] .dygraph-axis-label-x").allTextContents();
    const before = await label();
    await page.locator('[data-do="in"]').first().click();
    await page.waitForTimeout(100);
    assert.notDeepEqual(await label(), before);
    await page.locator('[data-do="all"]').first().click();
    await page.waitForTimeout(100);
    assert.deepEqual(await label(), before);
    await context.close();
  });
  await test("values under the pointer, in every chart", async () => {
    const { page, heard, context } = await open(one);
    await wakeAll(page);
    await page.locator("[data-track] .plot").first().scrollIntoViewIfNeeded();
    await page.locator("[data-track] .plot").first().hover();
    await page.waitForTimeout(100);
    const told = (await page.locator(".readout").allTextContents()).filter((t) => t !== "");
    assert.ok(told.length >= 3, `${told.length} charts tell a value`);
    assert.deepEqual(heard, []);
    await context.close();
  });
  await test("findings lead to their run, the verdict to its findings", async () => {
    const { page, context } = await open(two);
    const lost = await page.evaluate(() => [...document.querySelectorAll('a[href^="#"]')]
      .map((a) => a.getAttribute("href")).filter((h) => !document.getElementById(h.slice(1))));
    assert.deepEqual(lost, []);
    assert.ok(await page.locator(".verdicts a[href*='-f']").count() > 0);
    assert.equal(await page.locator("nav.index a").count(), 2);
    await context.close();
  });
  await test("without script every picture is a drawing", async () => {
    const { page, context } = await open(one, { script: false });
    const drawings = await page.locator("[data-track] svg.chart").count();
    assert.ok(drawings >= 5);
    for (let i = 0; i < drawings; ++i) assert.ok(await page.locator("[data-track] svg.chart").nth(i).isVisible());
    assert.ok(await page.locator(".finding svg.chart").count() > 0);
    await context.close();
  });
  await test("markup in a log is text and runs nothing", async () => {
    const { page, heard, context } = await open(bad);
    await page.waitForTimeout(200);
    assert.equal(await page.evaluate(() => window.ran), undefined);
    assert.ok((await page.locator("main").innerText()).includes("window.ran=1"));
    assert.deepEqual(heard, []);
    await context.close();
  });
  await test("the document can be walked by headings and landmarks", async () => {
    const { page, context } = await open(one);
    const found = await page.evaluate(() => ({
      main: document.querySelectorAll("main").length, h1: document.querySelectorAll("h1").length,
      silent: [...document.querySelectorAll("svg")].filter((s) => !s.querySelector("title")).length,
      heads: [...document.querySelectorAll("th")].filter((t) => !t.scope).length,
    }));
    assert.deepEqual(found, { main: 1, h1: 1, silent: 0, heads: 0 });
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
    await context.close();
  });
  for (const format of ["A4", "Letter"]) {
    await test(`${format}: drawings instead of live charts, nothing cut`, async () => {
      const { page, heard, context } = await open(one, { width: format === "A4" ? 688 : 710 });
      await wakeAll(page);
      await page.emulateMedia({ media: "print" });
      assert.equal(await page.locator(".plot").first().isVisible(), false);
      assert.deepEqual(await page.evaluate(overflowing), []);
      const pdf = await page.pdf({ format, ...(shots ? { path: join(shots, `report_${format}.pdf`) } : {}) });
      assert.ok(pdf.length > 10000);
      assert.deepEqual(heard, []);
      await context.close();
    });
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(failed === 0 ? 0 : 1);
