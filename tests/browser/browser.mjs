// The browser of the tests, and what every page of ours is held to.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

function skip(why) {
  console.log(`skipped: ${why}`);
  process.exit(77);
}

const browserPath = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find(existsSync);
if (!browserPath) skip("chromium is not installed (apt-get install chromium)");
let chromium, axe;
try {
  ({ chromium } = await import("playwright-core"));
  axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
} catch {
  skip("playwright-core or axe-core is not installed (npm ci in tests/browser)");
}

let browser;
let failed = 0;
let shots;

export async function start(folderForShots) {
  shots = folderForShots;
  browser = await chromium.launch({ executablePath: browserPath, args: ["--no-sandbox"] });
}
export async function stop() {
  await browser.close();
  return failed;
}
export async function test(name, body) {
  const began = Date.now();
  try {
    await body();
    console.log(`ok      ${name} (${Date.now() - began} ms)`);
  } catch (error) {
    ++failed;
    console.log(`FAILED  ${name}\n        ${String(error.message).slice(0, 3000)}`);
  }
}

/** Opens a page and hears what it asks for and complains of. */
export async function open(address, options = {}) {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1280, height: 900 },
    colorScheme: options.scheme ?? "light",
    javaScriptEnabled: options.script ?? true,
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  const heard = [];
  page.on("console", (m) => { if (["error", "warning"].includes(m.type())) heard.push(m.text()); });
  page.on("pageerror", (e) => heard.push(String(e)));
  page.on("request", (r) => { if (r.url() !== address) heard.push(`request ${r.url()}`); });
  await page.goto(address);
  return { page, heard, context };
}
/** Lets every chart that waits to be seen come alive. */
export async function wakeAll(page) {
  const charts = page.locator("[data-track]");
  const count = await charts.count();
  for (let i = 0; i < count; ++i) await charts.nth(i).scrollIntoViewIfNeeded();
  await page.waitForFunction(() =>
    document.querySelectorAll("[data-track].live").length === document.querySelectorAll("[data-track]").length);
  await page.evaluate(() => scrollTo(0, 0));
}
export async function picture(page, name) {
  if (shots) await page.screenshot({ path: join(shots, `${name}.png`), fullPage: true });
}

// What runs inside the page. Each gives a list of complaints.

/** What sticks out of the page. On paper nothing can be scrolled to. */
function stickingOut(onPaper) {
  const wide = document.documentElement.clientWidth;
  const out = [];
  if (document.documentElement.scrollWidth > wide) out.push(`page ${document.documentElement.scrollWidth} > ${wide}`);
  const spared = onPaper ? "svg *, .plot" : ".scroll *, .strip *, .sheet *, svg *, .plot";
  for (const element of document.querySelectorAll("body *")) {
    if (element.closest(".skip, details:not([open])") || element.matches(spared)) continue;
    const box = element.getBoundingClientRect();
    if (box.width > 0 && box.right > wide + 1) {
      out.push(`${element.tagName}.${element.className} ${box.right.toFixed(0)} > ${wide}`);
    }
  }
  return out;
}
/** Texts that lie over one another, and texts of a drawing that leave it. */
function overlapping() {
  const out = [];
  const pieces = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.data.trim();
    const parent = node.parentElement;
    if (text === "" || parent.closest("script, style, title, desc, .skip, details:not([open])")) continue;
    if (getComputedStyle(parent).visibility === "hidden") continue;
    const frame = parent.closest("svg")?.getBoundingClientRect();
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width < 1 || box.height < 1) continue;
      pieces.push({ text, parent, box });
      if (frame && (box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 3)) {
        out.push(`cut: ${text}`);
      }
    }
  }
  pieces.sort((a, b) => a.box.top - b.box.top);
  pieces.forEach((a, i) => {
    for (let k = i + 1; k < pieces.length && pieces[k].box.top < a.box.bottom; ++k) {
      const b = pieces[k];
      const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
      // Lines of type reach a little into one another by their line height.
      if (across > 2 && down > 0.4 * Math.min(a.box.height, b.box.height) && a.parent !== b.parent) {
        out.push(`"${a.text}" over "${b.text}"`);
      }
    }
  });
  return out;
}
/** Drawings without words for those who cannot see them. */
function silent() {
  return [...document.querySelectorAll("svg")]
    .filter((s) => !s.getAttribute("aria-label") && !(s.querySelector("title") && s.getAttribute("aria-labelledby")))
    .map((s) => s.outerHTML.slice(0, 80));
}
function linksToNowhere() {
  return [...document.querySelectorAll('a[href^="#"]')].map((a) => a.getAttribute("href"))
    .filter((h) => !document.getElementById(h.slice(1)));
}
function idsTwice() {
  const seen = new Map();
  for (const e of document.querySelectorAll("[id]")) seen.set(e.id, (seen.get(e.id) ?? 0) + 1);
  return [...seen].filter(([, n]) => n > 1).map(([id]) => id);
}

/** Layout and words of a page as it stands. */
export async function wellLaidOut(page, { onPaper = false } = {}) {
  assert.deepEqual(await page.evaluate(stickingOut, onPaper), [], "sticks out");
  assert.deepEqual(await page.evaluate(overlapping), [], "overlaps");
}
/** WCAG 2.2 A and AA and good practice, as axe-core reads them. */
async function accessible(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const result = await globalThis.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    });
    return result.violations.map((v) => `${v.id}: ${v.nodes.slice(0, 3).map((n) => n.target + " " + n.failureSummary).join(" | ")}`);
  });
  assert.deepEqual(found, []);
}

/** All that any page must keep; `live` says that it has charts with a script. */
export async function holdsForEveryPage(name, address, { live = false } = {}) {
  for (const width of [390, 1280]) {
    await test(`${name}, ${width} pixels: quiet, nothing sticks out or overlaps`, async () => {
      const { page, heard, context } = await open(address, { width });
      if (live) await wakeAll(page);
      await wellLaidOut(page);
      await picture(page, `${name}_${width}`);
      assert.deepEqual(heard, []);
      await context.close();
    });
  }
  for (const [format, width] of [["A4", 688], ["Letter", 710]]) {
    await test(`${name}, ${format}: drawings alone, nothing cut`, async () => {
      const { page, heard, context } = await open(address, { width });
      if (live) await wakeAll(page);
      await page.emulateMedia({ media: "print" });
      await wellLaidOut(page, { onPaper: true });
      for (const plot of await page.locator(".plot, .tools").all()) assert.equal(await plot.isVisible(), false);
      // What may not be parted must fit on a Letter sheet between its margins.
      const tall = await page.evaluate(() => [...document.querySelectorAll("figure, tr, svg")]
        .map((e) => e.getBoundingClientRect().height).filter((h) => h > 950));
      assert.deepEqual(tall, []);
      const pdf = await page.pdf({ format, ...(shots ? { path: join(shots, `${name}_${format}.pdf`) } : {}) });
      assert.ok(pdf.length > 10000);
      assert.deepEqual(heard, []);
      await context.close();
    });
  }
  for (const scheme of ["light", "dark"]) {
    await test(`${name}, ${scheme}: contrast, names, order, landmarks`, async () => {
      const { page, heard, context } = await open(address, { scheme });
      await accessible(page);
      assert.deepEqual(await page.evaluate(silent), []);
      if (scheme === "dark") await picture(page, `${name}_dark`);
      assert.deepEqual(heard, []);
      await context.close();
    });
  }
  await test(`${name}: every link leads somewhere, every id is there once`, async () => {
    const { page, context } = await open(address);
    assert.deepEqual(await page.evaluate(linksToNowhere), []);
    assert.deepEqual(await page.evaluate(idsTwice), []);
    await context.close();
  });
  await test(`${name}: the keyboard reaches everything, and shows where it is`, async () => {
    const { page, context } = await open(address);
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
    const unseen = [];
    for (let i = 0; i < 60; ++i) {
      const lost = await page.evaluate(() => {
        const e = document.activeElement;
        if (e === document.body) return null;
        const style = getComputedStyle(e);
        return style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2 ? e.outerHTML.slice(0, 80) : "";
      });
      if (lost === null) break;
      if (lost) unseen.push(lost);
      await page.keyboard.press("Tab");
    }
    assert.deepEqual(unseen, []);
    await context.close();
  });
  await test(`${name}: the content policy lets nothing else run or load`, async () => {
    const { page, heard, context } = await open(address);
    const failing = page.waitForEvent("requestfailed");
    await page.evaluate(() => {
      const script = document.createElement("script");
      script.textContent = "window.intruder = 1";
      document.body.append(script);
      const image = document.createElement("img");
      image.src = "https://example.invalid/x.png";
      image.setAttribute("onerror", "window.intruder = 2");
      document.body.append(image);
    });
    const refused = await failing;
    assert.equal(refused.failure().errorText, "csp");
    assert.equal(await page.evaluate(() => window.intruder), undefined);
    assert.ok(heard.filter((h) => h.includes("Content Security Policy")).length >= 3, heard.join("\n"));
    await context.close();
  });
}
/** Markup from outside stands in the page as text, and nothing of it ran. */
export async function showsAsText(address, texts) {
  const { page, heard, context } = await open(address);
  await page.waitForTimeout(100);
  assert.equal(await page.evaluate(() => window.ran), undefined);
  const body = await page.locator("body").innerText();
  for (const text of texts) assert.ok(body.includes(text), `not shown: ${text}`);
  assert.deepEqual(heard, []);
  await context.close();
}
