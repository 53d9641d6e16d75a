// From an empty installation to a plan, by what a newcomer sees.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes } from "./support/browser.mjs";
import { startHost } from "./support/host.mjs";
import { Person } from "./support/person.mjs";

const LIMIT_SECONDS = 180;
let browser;

before(async () => {
  browser = await launch();
});
after(async () => browser?.close());

for (const [name, size] of Object.entries(sizes)) {
  test(`a newcomer has a plan in under three minutes (${name})`, async () => {
    const host = await startHost();
    const { page, close } = await openPage(browser, host.url, { size });
    try {
      const person = new Person(page);
      await settled(page);
      await person.read();
      await person.click(page.getByRole("link", { name: "Plan my season" }));

      await page.getByRole("heading", { name: "Where are your plants?" }).waitFor();
      await settled(page);
      await person.read();
      await person.type(page.getByLabel("Name of the place"), "Home");
      await person.type(page.getByLabel("Latitude"), "47.7, 13.1");
      await person.press("Tab");
      assert.equal(await page.getByLabel("Longitude").inputValue(), "13.1", "a pair fills both fields");
      assert.equal(await page.getByLabel("Time zone").inputValue(), "Europe/Vienna", "the device knows its time zone");
      await person.click(page.getByRole("button", { name: "Save and go on" }));

      await page.getByRole("heading", { name: "How cold does it get?" }).waitFor();
      await settled(page);
      await person.read();
      const first = page.getByRole("group", { name: "First freeze in autumn" });
      await person.type(first.getByRole("textbox"), "20");
      const last = page.getByRole("group", { name: "Last freeze in spring" });
      await person.type(last.getByRole("textbox"), "25");
      await person.type(page.getByLabel("Coldest night of a usual winter"), "-14");
      await person.click(page.getByRole("button", { name: "Use these averages" }));

      await page.getByRole("heading", { name: "What shelter do you have?" }).waitFor();
      await settled(page);
      await person.read();
      await person.type(page.getByLabel("Length"), "3.6");
      await person.click(page.getByRole("button", { name: "Add this shelter" }));

      await page.getByRole("heading", { name: "Which plants must come through?" }).waitFor();
      await settled(page);
      await person.read();
      for (const [plant, count] of [["lemon", "2"], ["olean", "3"], ["dahlia", "6"]]) {
        await person.type(page.getByLabel("Search the catalogue"), plant);
        await person.press("Enter");
        await person.type(page.getByLabel("How many"), count);
        await person.press("Enter");
        await page.getByLabel("Search the catalogue").waitFor();
      }
      await person.click(page.getByRole("link", { name: "See my season" }));

      await page.getByRole("heading", { name: /^Season \d{4}/ }).waitFor();
      await page.locator("[data-mark]").first().waitFor();
      assert.ok((await page.locator("[data-mark]").count()) >= 10, "the plan shows its chores");
      assert.ok(person.seconds < LIMIT_SECONDS, `it took ${person.seconds.toFixed(0)} s`);
      console.log(`a newcomer's plan on the ${name}: ${person.seconds.toFixed(0)} s by the keystroke-level model`);
      await settled(page);
      assert.deepEqual(await layoutProblems(page), []);
      assert.deepEqual(await accessProblems(page), []);
      await close();
    } finally {
      await host.stop();
    }
  });
}

test("each step says what is missing and sends the focus there", async () => {
  const host = await startHost();
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/site`);
  try {
    await settled(page);
    await page.getByRole("button", { name: "Save and go on" }).click();
    await page.getByText("Give the place a name.").waitFor();
    await page.waitForFunction(() => document.activeElement?.getAttribute("aria-invalid") === "true");
    assert.deepEqual(await accessProblems(page), []);
    await page.getByLabel("Name of the place").fill("Home");
    await page.getByLabel("Latitude").fill("91");
    await page.getByLabel("Longitude").fill("13");
    await page.getByText("Latitudes lie between −90 and 90 degrees.").waitFor();
    await page.getByLabel("Latitude").fill("47.7");
    // What only the host can judge comes back to its field.
    await page.getByLabel("Time zone").fill("Middle/Earth");
    await page.getByRole("button", { name: "Save and go on" }).click();
    await page.getByText("is not in the time-zone database").waitFor();
    assert.equal(await page.getByLabel("Time zone").getAttribute("aria-invalid"), "true");
    await close();
  } finally {
    await host.stop();
  }
});

test("the demo season is one press away and can be removed and brought back", async () => {
  const host = await startHost();
  const { page, close } = await openPage(browser, host.url);
  try {
    await page.getByRole("button", { name: "Look at the demo season" }).click();
    await page.getByRole("heading", { name: /^Season \d{4}/ }).waitFor();
    await page.getByRole("link", { name: "Set-up", exact: true }).click();
    await page.getByRole("button", { name: "Remove Larch Bank" }).click();
    await page.getByText("Larch Bank was removed.").waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByText("Larch Bank is back.").waitFor();
    await page.getByRole("button", { name: "Remove Larch Bank" }).waitFor();
    assert.ok((await host.call("overview", { site_id: null })).plantings.length > 10);
    await close();
  } finally {
    await host.stop();
  }
});

test("an American reader begins in Fahrenheit, feet and gallons", async () => {
  const host = await startHost();
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/site`, { locale: "en-US", timeZone: "America/Denver" });
  try {
    await settled(page);
    await page.getByLabel("Name of the place").fill("Yard");
    await page.getByLabel("Latitude").fill("39.7, -105");
    await page.keyboard.press("Tab");
    await page.getByLabel("Height above sea level").fill("5280");
    await page.getByRole("button", { name: "Save and go on" }).click();
    await page.getByRole("heading", { name: "How cold does it get?" }).waitFor();
    await page.getByRole("group", { name: "First freeze in autumn" }).getByRole("textbox").fill("7");
    await page.getByRole("group", { name: "Last freeze in spring" }).getByRole("textbox").fill("5");
    await page.getByLabel("Coldest night of a usual winter").fill("-4");
    await page.getByRole("button", { name: "Use these averages" }).click();
    await page.getByRole("heading", { name: "What shelter do you have?" }).waitFor();
    const { site, climate } = await host.call("overview", { site_id: null });
    assert.deepEqual(site.units, { temperature: "fahrenheit", length: "foot", volume: "us_gallon" });
    assert.equal(site.currency, "USD");
    assert.equal(site.time_zone, "America/Denver");
    assert.ok(Math.abs(site.elevation_m - 1609.344) < 0.001, "5,280 ft are one mile");
    assert.ok(Math.abs(climate.typed.annual_minimum_c + 20) < 1e-9, "−4 °F is −20 °C");
    await close();
  } finally {
    await host.stop();
  }
});
