// The morning after a night: what came is entered beside what was predicted. One night is lived through from evening to
// morning; the others are told to the screens in the words of the contract, so that every state is seen.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes, themes } from "./support/browser.mjs";
import { startHost } from "./support/host.mjs";

let browser;
let host;
let zones;
let shelters;

before(async () => {
  browser = await launch();
  host = await startHost();
  await host.call("demo_load", {});
  const overview = await host.call("overview", { site_id: null });
  shelters = overview.shelters;
  zones = overview.zones.map((zone) => ({ zone_id: zone.id, shelter_id: zone.shelter_id, place: `${shelters.find((one) => one.id === zone.shelter_id).name}, ${zone.name}` }));
});
after(async () => {
  await browser?.close();
  await host?.stop();
});

const night = (night_of, came) => ({
  night_of,
  predicted_at_utc: `${night_of}T16:00:00Z`,
  predicted_low_c: -3,
  outside_low_c: came ? -4.2 : null,
  zones: zones.map((zone, index) => ({ zone_id: zone.zone_id, place: zone.place, predicted_low_c: 1, low_c: came ? 0.5 : null, model_error_k: came ? [0, -0.5, 0.8][index % 3] : null })),
  heated_shelter_ids: came ? [shelters[0].id] : [],
});

async function openMorning({ nights, size, theme }) {
  const opened = await openPage(browser, `${host.url}/#/set-up`, { size, theme });
  const { page } = opened;
  const kept = [];
  await page.route("**/api/call/night_record", (route) => route.fulfill({ json: { nights, zones, doubt: [] } }));
  await page.route("**/api/call/night_outcome", (route) => {
    const outcome = route.request().postDataJSON();
    const wrong = outcome.zones.findIndex((zone) => zone.low_c < -50);
    kept.push(outcome);
    if (wrong >= 0) return route.fulfill({ status: 422, json: { code: "invalid", message: "The low is out of all reason.", field: `zones[${wrong}].low_c`, file: null, line: null } });
    return route.fulfill({ json: nights[0] });
  });
  await page.goto(`${host.url}/#/today`);
  await settled(page);
  return { ...opened, kept };
}

test("a predicted night asks for what came, and keeps only what was read", async () => {
  const { page, close, kept } = await openMorning({ nights: [night("2026-11-24", false)] });
  await page.getByRole("button", { name: "What came last night?" }).click();
  const dialog = page.getByRole("dialog", { name: "What came of the night?" });
  await dialog.getByRole("button", { name: "Keep these lows" }).click();
  await dialog.getByText("Enter at least one low.").waitFor();
  await dialog.getByLabel("Low outdoors").fill("-4,5");
  await dialog.getByLabel(zones[1].place).fill("-99");
  await dialog.getByRole("button", { name: "Keep these lows" }).click();
  await dialog.getByText("The low is out of all reason.").waitFor();
  assert.equal(await dialog.getByLabel(zones[1].place).getAttribute("aria-invalid"), "true", "the refusal stands at its zone");
  assert.deepEqual(await accessProblems(page), []);
  await dialog.getByLabel(zones[1].place).fill("0.4");
  const heated = shelters.find((one) => one.has_heater);
  await dialog.getByRole("checkbox", { name: heated.name }).check();
  await dialog.getByRole("button", { name: "Keep these lows" }).click();
  await page.getByText("The night is on record.").waitFor();
  const { site_id: _, ...last } = kept.at(-1);
  assert.deepEqual(last, { night_of: "2026-11-24", outside_low_c: -4.5, zones: [{ zone_id: zones[1].zone_id, low_c: 0.4 }], heated_shelter_ids: [heated.id] });
  await close();
});

test("past nights stand beside their predictions, readable in every size and theme", async () => {
  const problems = [];
  for (const theme of themes) {
    for (const [name, size] of Object.entries(sizes)) {
      const { page, close } = await openMorning({ nights: [night("2026-11-24", true), night("2026-11-23", false)], size, theme });
      assert.equal(await page.getByRole("button", { name: "What came last night?" }).count(), 0, "what is known is not asked again");
      await page.getByRole("button", { name: "Look closer" }).click();
      await page.getByRole("button", { name: "Past nights" }).click();
      const dialog = page.getByRole("dialog", { name: "Past nights" });
      const first = dialog.locator("tbody").first();
      await first.getByText("1.2 °C colder").waitFor();
      await first.getByText("as predicted").first().waitFor();
      await first.getByText("0.8 °C milder").first().waitFor();
      await dialog.getByText(`A heater ran in ${shelters[0].name}.`).waitFor();
      for (const problem of [...(await accessProblems(page)), ...(await layoutProblems(page))]) problems.push(`${name} ${theme}: ${problem}`);
      await close();
    }
  }
  assert.deepEqual(problems, []);
});

test("an evening's call is met by the morning's lows and feeds the stated doubt", async () => {
  let own = await startHost("2026-11-25T16:00:00Z");
  try {
    await own.call("demo_load", {});
    const evening = await openPage(browser, `${own.url}/#/today`);
    await evening.page.getByRole("button", { name: "Look closer" }).click();
    await evening.page.getByLabel("Low outdoors").fill("-9");
    await evening.page.getByRole("button", { name: "Reckon this night" }).click();
    await evening.page.getByText("−9 °C outdoors, as you typed").waitFor();
    await evening.page.getByText("If more such nights follow").first().click();
    const ahead = evening.page.getByRole("region", { name: "Nights ahead in figures" });
    await ahead.locator("tbody tr").nth(6).waitFor();
    const holds = (await ahead.locator("tbody td:nth-of-type(3)").allInnerTexts()).map((text) => Number.parseFloat(text));
    assert.ok(holds[0] > holds[6], `the hold fades over seven such nights: ${holds}`);
    await evening.close();

    own = await own.restart("2026-11-26T07:30:00Z");
    const morning = await openPage(browser, `${own.url}/#/today`);
    await morning.page.getByRole("button", { name: "What came last night?" }).click();
    const dialog = morning.page.getByRole("dialog", { name: "What came of the night?" });
    await dialog.getByLabel("Low outdoors").fill("-11");
    await dialog.getByLabel("greenhouse, north corner").fill("-4.2");
    await dialog.getByRole("button", { name: "Keep these lows" }).click();
    await morning.page.getByText("The night is on record.").waitFor();
    await morning.close();

    const { nights, doubt } = await own.call("night_record", { site_id: null, most: null });
    assert.deepEqual([nights[0].night_of, nights[0].predicted_low_c, nights[0].outside_low_c], ["2026-11-25", -9, -11]);
    const corner = nights[0].zones.find((zone) => zone.low_c === -4.2);
    assert.ok(Number.isFinite(corner.model_error_k) && corner.predicted_low_c > corner.low_c - 6, JSON.stringify(corner));
    assert.ok(doubt.length > 0);
  } finally {
    await own.stop();
  }
});
