// The night on Today: a typed low, the call with its chart and reasons, read by pointer, keys and screen reader.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes, themes } from "./support/browser.mjs";
import { startHost } from "./support/host.mjs";

let browser;
let host;

before(async () => {
  browser = await launch();
  host = await startHost();
  await host.call("demo_load", {});
});
after(async () => {
  await browser?.close();
  await host?.stop();
});

const ask = (low_c, more = {}) =>
  host.call("tonight", { site_id: null, low_c, cloud: null, wind_m_per_s: null, lead_days: null, covered: null, price_per_kwh: null, ...more });

async function openNight(page, low) {
  await settled(page);
  await page.getByRole("button", { name: "Look closer" }).click();
  await page.getByLabel("Low outdoors").fill(low);
  await page.getByRole("button", { name: "Reckon this night" }).click();
  await page.getByText(`${low.replace("-", "−")} °C outdoors, as you typed`).waitFor();
}

const shelterOf = (page, name) => page.locator(".shelters > details").filter({ has: page.locator("summary strong", { hasText: name }) });

const plain = (text) => text.replace(/\u00a0/g, " ");

/** A share as the screens round it: what is not quite never or always keeps a decimal. */
const percent = (share) => {
  const near = (share > 0 && share < 0.01) || (share < 1 && share > 0.99);
  return near ? `${Math.round(Math.min(Math.max(share, 0.001), 0.999) * 1000) / 10}%` : `${Math.round(share * 100)}%`;
};

test("a typed low gives the call of every shelter with the figures of the reckoning", async () => {
  const call = await ask(-9);
  const { page, close } = await openPage(browser, `${host.url}/#/today`);
  await openNight(page, "-9");
  for (const night of call.shelters) {
    const card = shelterOf(page, night.name);
    if (!(await card.evaluate((one) => one.open))) await card.locator("summary").first().click();
    const worst = night.zones.reduce((most, zone) => ((zone.risk ?? -1) > (most?.risk ?? -1) ? zone : most));
    const text = plain(await card.locator("dl").innerText());
    assert.ok(text.includes(percent(worst.risk)), `${night.name}: chance ${worst.risk} in ${text}`);
    assert.ok(text.includes(worst.limit.label), `${night.name}: whose limit`);
    if (night.heat_below_c == null) assert.match(text, /no low in reach/);
    else assert.ok(text.includes(`${Math.round(night.heat_below_c * 10) / 10} °C`.replace("-", "−")), `${night.name}: heat below ${night.heat_below_c} in ${text}`);
    if (night.heating && night.step !== "rest") assert.ok(text.includes(`${Math.round(night.heating.heat_kwh * 10) / 10} kWh`), `${night.name}: energy`);
  }
  await close();
});

test("the chart is read by keys as well as by pointer, and its table says the same", async () => {
  const call = await ask(-9);
  const night = call.shelters.find((one) => one.step === "heat");
  assert.ok(night, "the demo's greenhouse needs heat on such a night");
  const { page, close } = await openPage(browser, `${host.url}/#/today`);
  await openNight(page, "-9");
  const card = shelterOf(page, night.name);
  if (!(await card.evaluate((one) => one.open))) await card.locator("summary").first().click();

  const slider = card.getByRole("slider", { name: "Time to read the chart at" });
  const spoken = () => slider.getAttribute("aria-valuetext");
  const coldest = await spoken();
  await slider.focus();
  await page.keyboard.press("ArrowLeft");
  const before = await spoken();
  assert.notEqual(before, coldest, "a key moves the reading");
  for (const zone of night.zones) assert.ok(before.includes(zone.name), `the reading names ${zone.name}`);

  const box = await card.locator(".frame svg").boundingBox();
  await page.mouse.move(box.x + box.width / 3, box.y + box.height / 2);
  assert.notEqual(await spoken(), before, "the pointer moves the reading");

  // Without colour: each zone's line has its own dashes, and its letter stands at its end.
  const dashes = await card.locator(".frame .zone-line").evaluateAll((lines) => lines.map((line) => line.getAttribute("stroke-dasharray")));
  assert.equal(new Set(dashes).size, night.zones.length);
  const ends = await card.locator(".frame .end").allTextContents();
  for (const [index, zone] of night.zones.entries()) assert.ok(ends.some((end) => end.startsWith(`${String.fromCharCode(65 + index)} ${zone.name.slice(0, 8)}`)), `${zone.name} in ${ends}`);
  assert.ok((await card.locator(".frame .heat").count()) > 0, "heater hours are drawn");

  await card.getByText("The night as a table").click();
  await card.getByRole("columnheader", { name: "Outdoors" }).waitFor();
  const rows = card.getByRole("region", { name: `${night.name}: the night hour by hour` }).locator("tbody tr");
  const temps = night.course.filter((_, index) => index % 2 === 0).map((point) => point.outside_c);
  assert.equal(await rows.count(), temps.length);
  const shown = (temp) => `${Math.round(temp * 10) / 10} °C`.replace("-", "−").replace("−0 ", "0 ");
  assert.equal(plain(await rows.nth(5).locator("td").first().innerText()), shown(temps[5]));
  await close();
});

test("the night opens and reads in every size and theme", async () => {
  const problems = [];
  for (const theme of themes) {
    for (const [name, size] of Object.entries(sizes)) {
      const { page, close } = await openPage(browser, `${host.url}/#/today`, { size, theme });
      await settled(page);
      const line = await page.locator("section.night").boundingBox();
      if (line.height > size.height / 3) problems.push(`${name}: the folded night takes ${Math.round(line.height)} px of ${size.height}`);
      await openNight(page, "-9");
      await page.evaluate(() => document.querySelectorAll("section.night details").forEach((one) => (one.open = true)));
      await settled(page);
      await page.evaluate(() => document.querySelectorAll("section.night details").forEach((one) => (one.open = true)));
      await settled(page);
      for (const problem of [...(await accessProblems(page)), ...(await layoutProblems(page))]) problems.push(`${name} ${theme}: ${problem}`);
      await close();
    }
  }
  assert.deepEqual(problems, []);
});

test("what cannot be read as a low is said beside its field, and the last call stays", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/today`);
  await openNight(page, "-9");
  const field = page.getByLabel("Low outdoors");
  await field.fill("cold");
  await page.getByRole("button", { name: "Reckon this night" }).click();
  await page.getByText("Enter a number, such as 2.5.").waitFor();
  await field.fill("-90");
  await page.getByRole("button", { name: "Reckon this night" }).click();
  await page.locator("form .problem").waitFor();
  assert.equal(await field.getAttribute("aria-invalid"), "true");
  assert.ok((await page.locator(".shelters > details").count()) > 0);
  assert.deepEqual(await accessProblems(page), []);
  await close();
});

test("a low typed in the afternoon is still there in the evening, on this device", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/today`);
  await openNight(page, "-7");
  await page.reload();
  await page.getByText("−7 °C outdoors, as you typed").waitFor();
  await close();
});
