// Every place in both sizes and both themes: accessible, nothing cut off, a picture to look at.
import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes, themes } from "./support/browser.mjs";
import { root, startHost } from "./support/host.mjs";

/** With HIBERNACLE_PICTURES=1 the pictures of the README are taken anew. */
const PICTURES = process.env.HIBERNACLE_PICTURES === "1";
const OUT = join(import.meta.dirname, "out");
const SHOWN = join(root, "icons/screenshots");
const IN_README = ["season-desk-light", "today-phone-dark", "close-up-phone-dark"];

/** Milliseconds from a press to the drawn place, on the demo season. A busy test machine gets some slack. */
const BAR_MS = 100;
const SLACK = 4;

const places = {
  today: "/today",
  season: "/season",
  list: "/season/list",
  "close-up": "/season/close-up",
  shelter: "/shelter",
  "set-up": "/set-up",
  site: "/set-up/site",
  climate: "/set-up/climate",
  shelters: "/set-up/shelters",
  plants: "/set-up/plants",
  catalogue: "/set-up/plants/catalogue",
  forecast: "/set-up/forecast",
  prices: "/set-up/prices",
  nowhere: "/no/such/place",
};

/** Opens everything that is folded; how much there was. */
async function unfold(page) {
  const folded = await page.evaluate(() => {
    const all = [...document.querySelectorAll("details:not([open])")];
    for (const one of all) one.open = true;
    return all.length;
  });
  await settled(page);
  return folded;
}

let browser;
let demo;
let empty;
/** Views of the demo's greenhouse, whose address is known only once it stands there. */
const views = {};

before(async () => {
  mkdirSync(OUT, { recursive: true });
  if (PICTURES) mkdirSync(SHOWN, { recursive: true });
  browser = await launch();
  [demo, empty] = await Promise.all([startHost(), startHost()]);
  await demo.call("demo_load", {});
  const { shelters } = await demo.call("overview", { site_id: null });
  const greenhouse = shelters.find((one) => one.kind === "greenhouse");
  for (const view of ["build", "loss", "compare"]) views[`shelter-${view}`] = `/shelter/${greenhouse.id}/${view}`;
});
after(async () => {
  await browser?.close();
  await demo?.stop();
  await empty?.stop();
});

for (const theme of themes) {
  for (const [name, size] of Object.entries(sizes)) {
    test(`every place of the demo season is sound (${name}, ${theme})`, async () => {
      const { page, close } = await openPage(browser, demo.url, { size, theme });
      const problems = [];
      for (const [place, path] of Object.entries({ ...places, ...views })) {
        await page.goto(`${demo.url}/#${path}`);
        await settled(page);
        for (const problem of [...(await accessProblems(page)), ...(await layoutProblems(page))]) problems.push(`${place}: ${problem}`);
        await page.screenshot({ path: join(OUT, `${place}-${name}-${theme}.png`) });
        const shown = IN_README.includes(`${place}-${name}-${theme}`);
        if (PICTURES && shown) await page.screenshot({ path: join(SHOWN, `${place}-${name}-${theme}.png`) });
        if (await unfold(page)) {
          for (const problem of [...(await accessProblems(page)), ...(await layoutProblems(page))]) problems.push(`${place} unfolded: ${problem}`);
        }
      }
      assert.deepEqual(problems, []);
      await close();
    });

    test(`every place of an empty installation leads on (${name}, ${theme})`, async () => {
      const { page, close } = await openPage(browser, empty.url, { size, theme });
      const problems = [];
      for (const [place, path] of Object.entries(places)) {
        await page.goto(`${empty.url}/#${path}`);
        await settled(page);
        for (const problem of [...(await accessProblems(page)), ...(await layoutProblems(page))]) problems.push(`${place}: ${problem}`);
        const way = await page.locator("main a[href], main button").count();
        if (way === 0) problems.push(`${place}: no way on`);
        await page.screenshot({ path: join(OUT, `empty-${place}-${name}-${theme}.png`) });
      }
      assert.deepEqual(problems, []);
      await close();
    });
  }
}

test("at 200 % zoom nothing is lost", async () => {
  // Half the window is what twice the zoom leaves.
  const { page, close } = await openPage(browser, demo.url, { size: { width: 640, height: 400 } });
  const problems = [];
  for (const [place, path] of Object.entries({ ...places, ...views })) {
    await page.goto(`${demo.url}/#${path}`);
    await settled(page);
    for (const problem of await layoutProblems(page)) problems.push(`${place}: ${problem}`);
  }
  assert.deepEqual(problems, []);
  await close();
});

test("a chosen theme holds against the device's and over a reload", async () => {
  const { page, close } = await openPage(browser, demo.url, { theme: "light" });
  await settled(page);
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const light = await ground();
  await page.getByRole("radio", { name: "Dark" }).focus();
  await page.keyboard.press("Space");
  const dark = await ground();
  assert.notEqual(dark, light);
  await page.reload();
  await settled(page);
  assert.equal(await ground(), dark);
  await close();
});

test("a place is drawn soon after the press", async () => {
  const { page, close } = await openPage(browser, demo.url);
  await settled(page);
  const times = {};
  for (const [label, ready] of [["Season", "[data-mark]"], ["Shelter", "[data-zone]"], ["Set-up", ".cards"], ["Today", "li[data-chore]"]]) {
    // The first visit fetches the place's script; the bar is for a place one comes back to.
    for (const visit of [1, 2]) {
      times[label] = await page.evaluate(
        async ([label, ready]) => {
          const link = [...document.querySelectorAll("nav a")].find((one) => one.textContent.trim() === label);
          const start = performance.now();
          link.click();
          await new Promise((done) => {
            const look = () => (document.querySelector(ready) ? requestAnimationFrame(() => done()) : setTimeout(look, 2));
            setTimeout(look, 0);
          });
          return Math.round(performance.now() - start);
        },
        [label, ready],
      );
      await settled(page);
      if (visit === 1) await page.getByRole("link", { name: label === "Today" ? "Season" : "Today", exact: true }).click();
      await settled(page);
    }
  }
  console.log(`from press to drawn place: ${JSON.stringify(times)} ms, bar ${BAR_MS} ms`);
  for (const [label, ms] of Object.entries(times)) assert.ok(ms < BAR_MS * SLACK, `${label}: ${ms} ms`);
  await close();
});
