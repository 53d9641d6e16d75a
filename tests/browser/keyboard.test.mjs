// Every place without a mouse.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openPage, settled } from "./support/browser.mjs";
import { plantGarden, seasonOf } from "./support/garden.mjs";
import { startHost } from "./support/host.mjs";

let browser;
let host;
let garden;

before(async () => {
  browser = await launch();
  host = await startHost();
  garden = await plantGarden(host);
});
after(async () => {
  await browser?.close();
  await host?.stop();
});

const focused = (page) =>
  page.evaluate(() => {
    const element = document.activeElement;
    return { tag: element?.tagName.toLowerCase() ?? "", text: (element?.getAttribute("aria-label") ?? element?.textContent ?? "").trim(), ring: element ? getComputedStyle(element).outlineStyle !== "none" || element.closest(".with-unit, svg, label") !== null : false };
  });

/** Presses Tab until something with this name has the focus. */
async function tabTo(page, name, limit = 80) {
  for (let step = 0; step < limit; step += 1) {
    await page.keyboard.press("Tab");
    const now = await focused(page);
    if (now.text.includes(name)) return now;
  }
  throw new Error(`${limit} steps did not reach “${name}”`);
}

test("the first stop skips to the content, and each stop shows where it is", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up`);
  await settled(page);
  await page.evaluate(() => document.activeElement?.blur());
  await page.keyboard.press("Tab");
  assert.match((await focused(page)).text, /Skip to the content/);
  await page.keyboard.press("Enter");
  assert.equal((await focused(page)).tag, "main");
  let stops = 0;
  for (let step = 0; step < 25; step += 1) {
    await page.keyboard.press("Tab");
    const now = await focused(page);
    if (now.tag === "body") break;
    assert.ok(now.ring, `no visible focus on ${now.tag} “${now.text}”`);
    stops += 1;
  }
  assert.ok(stops >= 8, `only ${stops} stops`);
  await close();
});

test("a chore is opened, read, closed and ticked; the focus comes back to it", async () => {
  const { plan } = await seasonOf(host, garden.site);
  const chore = plan.chores.find((one) => one.state.state === "open");
  const { page, close } = await openPage(browser, `${host.url}/#/season/list`);
  await settled(page);
  await tabTo(page, chore.title);
  await tabTo(page, chore.title, 2);
  await page.keyboard.press("Enter");
  const sheet = page.getByRole("dialog", { name: chore.title });
  await sheet.waitFor();
  const inside = await page.evaluate(() => document.activeElement?.closest("dialog") !== null);
  assert.ok(inside, "the focus is in the sheet");
  await page.keyboard.press("Escape");
  await page.waitForFunction(() => !document.querySelector("dialog[open]"));
  assert.match((await focused(page)).text, new RegExp(chore.title.slice(0, 12)), "the focus is back on the chore");
  await page.keyboard.press("Shift+Tab");
  assert.match((await focused(page)).text, /Mark as done/);
  await page.keyboard.press("Space");
  await page.getByText(`Done: ${chore.title}`).waitFor();
  await tabTo(page, "Undo", 600);
  await page.keyboard.press("Enter");
  await page.getByText(`Taken back: ${chore.title}`).waitFor();
  await close();
});

test("the picture is one stop; arrows go from mark to mark and Enter opens", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/season`);
  await settled(page);
  assert.equal(await page.locator("[data-mark][tabindex='0']").count(), 1);
  await page.locator("[data-mark][tabindex='0']").focus();
  const first = await page.evaluate(() => document.activeElement?.getAttribute("data-mark"));
  await page.keyboard.press("ArrowDown");
  const second = await page.evaluate(() => document.activeElement?.getAttribute("data-mark"));
  assert.equal(first, "0/0");
  assert.match(second ?? "", /^1\//);
  await page.keyboard.press("ArrowUp");
  assert.match((await page.evaluate(() => document.activeElement?.getAttribute("data-mark"))) ?? "", /^0\//);
  await page.keyboard.press("Enter");
  await page.locator("dialog[open]").waitFor();
  await page.keyboard.press("Escape");
  await page.waitForFunction(() => !document.querySelector("dialog[open]"));
  await close();
});

test("a plant is added and removed by keys alone, with the removal taken back", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/plants`);
  await settled(page);
  await page.getByLabel("Search the catalogue").focus();
  await page.keyboard.type("olive");
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement?.closest("form") !== null), true, "the count has the focus");
  await page.keyboard.type("3");
  await page.keyboard.press("Enter");
  await page.getByText("Added: 3 × Olive").waitFor();
  await page.waitForFunction(() => document.activeElement?.getAttribute("type") === "search");
  const { plantings } = await host.call("overview", { site_id: garden.site.id });
  assert.equal(plantings.find((one) => one.label === "Olive")?.count, 3);
  await tabTo(page, "Remove Olive");
  await page.keyboard.press("Enter");
  await page.getByText("Olive was removed.").waitFor();
  await tabTo(page, "Undo");
  await page.keyboard.press("Enter");
  await page.getByText("Olive is back.").waitFor();
  await close();
});

test("a plant of one's own starts from a hardiness class and joins the catalogue", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/plants/catalogue`);
  await settled(page);
  await page.getByRole("button", { name: "Add your own" }).click();
  const form = page.getByRole("dialog", { name: "A plant of your own" });
  await form.getByLabel("Name", { exact: true }).fill("Aunt’s jasmine");
  await form.getByLabel("Start from a hardiness class").selectOption("H4");
  assert.equal(await form.getByLabel("At rest").inputValue(), "−5");
  await form.getByLabel("Roots in a pot").fill("-20");
  await form.getByLabel("In leaf").fill("-9");
  await form.getByRole("button", { name: "Save to my catalogue" }).click();
  await form.getByRole("alert").getByText("soft growth never stands more cold").waitFor();
  await form.getByLabel("In leaf").fill("-1");
  await form.getByLabel("Roots in a pot").fill("-2.5");
  await form.getByRole("button", { name: "Save to my catalogue" }).click();
  await page.getByText("Aunt’s jasmine is in your catalogue.").waitFor();
  const { plants, own_keys } = await host.call("plant_list", {});
  const own = plants.find((one) => one.name === "Aunt’s jasmine");
  assert.ok(own_keys.includes(own.key));
  assert.equal(own.root_in_pot.temp_c, -2.5);
  assert.equal(own.root_in_pot.evidence, "own");
  await close();
});
