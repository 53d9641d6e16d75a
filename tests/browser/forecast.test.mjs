// Forecasts and prices in the set-up: nothing leaves the device unasked, a saved file is read, every state says where it stands.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { accessProblems, launch, layoutProblems, openPage, settled, sizes, themes } from "./support/browser.mjs";
import { startHost } from "./support/host.mjs";

const NOW = "2026-11-25T10:00:00Z";
let browser;
let host;
let site;

before(async () => {
  browser = await launch();
  host = await startHost(NOW);
  site = await host.call("demo_load", {});
});
after(async () => {
  await browser?.close();
  await host?.stop();
});

/** A document in the published schema of Locationforecast 2.0 (compact): an hour a step, coldest at 5 UTC. */
function forecastDocument(low_c) {
  const start = Date.parse(NOW);
  const timeseries = Array.from({ length: 72 }, (_, hour) => {
    const time = new Date(start + hour * 3_600_000);
    const fromLow = Math.min((time.getUTCHours() + 19) % 24, (29 - time.getUTCHours()) % 24);
    const details = {
      air_pressure_at_sea_level: 1018.2,
      air_temperature: Math.round((low_c + fromLow * 0.7) * 10) / 10,
      cloud_area_fraction: 25,
      relative_humidity: 81.5,
      wind_from_direction: 120.5,
      wind_speed: 1.5,
    };
    return { time: time.toISOString().replace(".000", ""), data: { instant: { details } } };
  });
  return {
    type: "Feature",
    geometry: { type: "Point", coordinates: [13.1, 47.7, 470] },
    properties: {
      meta: {
        updated_at: "2026-11-25T09:20:00Z",
        units: { air_pressure_at_sea_level: "hPa", air_temperature: "celsius", cloud_area_fraction: "%", relative_humidity: "%", wind_from_direction: "degrees", wind_speed: "m/s" },
      },
      timeseries,
    },
  };
}

test("it is off until it is turned on, and says what is sent where before that", async () => {
  assert.equal((await host.call("weather_settings", { site_id: site.id })).source, "off");
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/forecast`);
  await settled(page);
  assert.equal(await page.getByRole("radio", { name: "None: I type the low" }).isChecked(), true);
  await page.getByRole("radio", { name: "MET Norway, Locationforecast" }).check();
  const sent = page.locator(".notice");
  await sent.getByText("What is sent to api.met.no with each request").waitFor();
  const words = (await sent.innerText()).replace(/\u00a0/g, " ");
  for (const word of ["47.7", "13.1", "470 m", "name and version of this program", "network address"]) assert.ok(words.includes(word), `${word} in ${words}`);
  await page.getByRole("button", { name: "Turn it on" }).waitFor();
  await page.getByRole("radio", { name: "US National Weather Service" }).check();
  assert.ok(!(await sent.innerText()).includes("470"), "that service is not told the height");
  assert.deepEqual(await accessProblems(page), []);
  assert.equal((await host.call("weather_settings", { site_id: site.id })).source, "off", "looking turns nothing on");
  await close();
});

test("a saved file fills in the nights, on this device alone", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/forecast`, { size: sizes.phone });
  await settled(page);
  await page.getByRole("radio", { name: "Files I save myself" }).check();
  const input = page.locator("input[type=file]");
  await input.setInputFiles({ name: "notes.json", mimeType: "application/json", buffer: Buffer.from('{"water": "the lemon"}') });
  await page.getByRole("alert").waitFor();
  assert.deepEqual(await accessProblems(page), []);
  await input.setInputFiles({ name: "place.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(forecastDocument(-8.4))) });
  const card = page.getByRole("region", { name: "The forecast in use" });
  await card.getByText("−8.4 °C").first().waitFor();
  await settled(page);
  assert.deepEqual(await layoutProblems(page), []);
  assert.deepEqual(await accessProblems(page), []);
  const view = await host.call("forecast", { site_id: site.id });
  assert.equal(await card.locator("tbody tr").count(), view.nights.length);
  await page.goto(`${host.url}/#/today`);
  await page.getByText("−8.4 °C outdoors, by the forecast").waitFor();
  await page.getByRole("button", { name: "Look closer" }).click();
  await page.getByLabel("Low outdoors").fill("-2");
  await page.getByRole("button", { name: "Reckon this night" }).click();
  await page.getByText("−2 °C outdoors, as you typed").waitFor();
  await page.getByRole("button", { name: "Take the forecast’s" }).click();
  await page.getByText("−8.4 °C outdoors, by the forecast").waitFor();
  await close();
});

test("each state of a service says how fresh it is and whose it is", async () => {
  const night = { night_of: "2026-11-25", lead_days: 0, low_c: -6.2, low_at_utc: "2026-11-26T05:00:00Z", next_high_c: 1.5, cloud_fraction: 0.2, wind_m_per_s: 1.4 };
  const settings = { site_id: site.id, source: "met_norway", contact: null };
  const fresh = { settings, issued_at_utc: "2026-11-25T09:20:00Z", fetched_at_utc: "2026-11-25T09:40:00Z", next_fetch_utc: "2026-11-25T10:15:00Z", nights: [night], problem: null };
  const states = {
    "up to date": fresh,
    "older one kept": { ...fresh, problem: "The service does not answer." },
    "no forecast": { ...fresh, issued_at_utc: null, fetched_at_utc: null, nights: [], problem: "The service does not answer." },
  };
  const problems = [];
  for (const theme of themes) {
    for (const [name, size] of Object.entries(sizes)) {
      const { page, close } = await openPage(browser, host.url, { size, theme });
      await page.route("**/api/call/weather_settings", (route) => route.fulfill({ json: settings }));
      let reply = fresh;
      let answer = Promise.resolve();
      await page.route("**/api/call/forecast", async (route) => {
        await answer;
        await route.fulfill({ json: reply });
      });
      for (const [word, state] of Object.entries(states)) {
        reply = state;
        let go;
        answer = new Promise((done) => (go = done));
        // Another place in between, drawn, so that the page is made anew.
        await page.goto(`${host.url}/#/today`);
        await page.locator("section.night").waitFor();
        await page.goto(`${host.url}/#/set-up/forecast`);
        const card = page.getByRole("region", { name: "The forecast in use" });
        await card.getByText("fetching", { exact: true }).waitFor();
        go();
        await card.getByText(word, { exact: true }).waitFor();
        await settled(page);
        assert.match(await card.innerText(), /MET Norway \(Norwegian Meteorological Institute\)[\s\S]*CC BY 4\.0/);
        if (state.problem) await card.getByText(state.problem).waitFor();
        for (const problem of [...(await accessProblems(page)), ...(await layoutProblems(page))]) problems.push(`${word} ${name} ${theme}: ${problem}`);
      }
      await close();
    }
  }
  assert.deepEqual(problems, []);
});

test("prices are asked for in the units of the bill and count at once", async () => {
  const { page, close } = await openPage(browser, `${host.url}/#/set-up/prices`);
  await settled(page);
  await page.getByLabel("Electricity").fill("0,32");
  await page.getByLabel("Propane").fill("much");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Enter a number, such as 2.5.").waitFor();
  assert.deepEqual(await accessProblems(page), []);
  await page.getByLabel("Propane").fill("");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Saved.").waitFor();
  const { prices } = await host.call("prices", { site_id: site.id });
  assert.deepEqual(prices.filter((price) => price.fuel !== "natural_gas" && price.fuel !== "kerosene"), [{ fuel: "electricity", per_unit: 0.32 }]);
  const call = await host.call("tonight", { site_id: site.id, low_c: -9, cloud: null, wind_m_per_s: null, lead_days: null, covered: null, price_per_kwh: null });
  const heating = call.shelters.find((one) => one.step === "heat")?.heating;
  assert.ok(Math.abs(heating.cost - heating.heat_kwh * 0.32) < 0.01, "the night costs what the price says");
  await close();
});
