// A real Chromium and the checks that every screen has to pass.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { chromium } from "playwright-core";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

export const sizes = { desk: { width: 1280, height: 800 }, phone: { width: 390, height: 844 } };
export const themes = ["light", "dark"];

export function launch() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  });
}

/** A page with a fixed reader; anything that the page reports as an error fails the test that closes it. */
export async function openPage(browser, url, { size = sizes.desk, theme = "light", locale = "en-GB", timeZone = "Europe/Vienna" } = {}) {
  const context = await browser.newContext({
    viewport: size,
    colorScheme: theme,
    locale,
    timezoneId: timeZone,
    reducedMotion: "reduce",
    acceptDownloads: true,
    // The accessibility check is put into the page from outside; the page's own policy stays as it is served.
    bypassCSP: false,
  });
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => {
    // A refused command is answered with an error status, which Chromium notes by itself.
    if (message.type() === "error" && !message.text().includes("Failed to load resource")) errors.push(message.text());
  });
  await page.goto(url);
  return {
    page,
    errors,
    async close() {
      await context.close();
      assert.deepEqual(errors, [], "the page reported errors");
    },
  };
}

/** Waits until nothing is being fetched and drawn any more. */
export async function settled(page) {
  await page.waitForLoadState("networkidle");
  await page.locator("h1").first().waitFor();
  await page.waitForFunction(() => !document.querySelector(".loading"));
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/** Violations of WCAG 2.2 A and AA and of axe's best practices, as short lines. */
export async function accessProblems(page) {
  // Evaluated by the debugger, so the page's policy against foreign scripts does not apply.
  await page.evaluate(axeSource);
  const result = await page.evaluate(() =>
    globalThis.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }),
  );
  return result.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${node.target.join(" ")} — ${node.failureSummary?.split("\n")[1]?.trim()}`),
  );
}

/** Anything wider than the window, texts cut off, and targets too small for cold fingers. */
export function layoutProblems(page) {
  return page.evaluate(() => {
    const problems = [];
    const name = (element) => `${element.tagName.toLowerCase()}.${String(element.className?.baseVal ?? element.className).split(" ")[0]} “${(element.textContent ?? "").trim().slice(0, 40)}”`;
    const seen = (element) => {
      const box = element.getBoundingClientRect();
      const style = getComputedStyle(element);
      return box.width > 0 && box.height > 0 && style.visibility !== "hidden" && !element.closest(".unseen, .skip, svg");
    };
    const width = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > width) problems.push(`the page scrolls sideways: ${document.documentElement.scrollWidth} > ${width}`);
    for (const element of document.querySelectorAll("body *")) {
      if (!seen(element)) continue;
      const box = element.getBoundingClientRect();
      const scroller = element.closest(".scroll");
      if (!scroller && (box.right > width + 1 || box.left < -1)) problems.push(`beyond the edge: ${name(element)} ${Math.round(box.left)}–${Math.round(box.right)}`);
      const style = getComputedStyle(element);
      if (style.overflowX === "hidden" && element.scrollWidth > element.clientWidth + 1 && style.textOverflow !== "ellipsis" && !element.closest(".scene, .names, dialog")) problems.push(`cut off: ${name(element)}`);
    }
    for (const target of document.querySelectorAll("button, select, input:not([type=checkbox], [type=radio], [type=file]), summary, nav a")) {
      if (!seen(target) || target.closest(".with-unit")) continue;
      const box = target.getBoundingClientRect();
      if (box.height < 43.5 && target.tagName !== "SUMMARY") problems.push(`small target: ${name(target)} ${Math.round(box.width)}×${Math.round(box.height)}`);
    }
    return problems;
  });
}
