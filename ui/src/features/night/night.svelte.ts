import type { NightRecords, TonightCall, WeatherSettings } from "$contract";
import { call } from "$platform";
import type { Day } from "$shared/dates";
import { Loader } from "$shared/loader.svelte";
import { keep, NOTHING_SAID, recall, requestOf, type Outlook } from "./outlook";

/** The night as it is looked at: what was said of it, the call, and the nights on record. Outlives the place. */
class Night {
  said = $state.raw<Outlook>(NOTHING_SAID);
  open = $state(false);
  readonly calls = new Loader<TonightCall>();
  readonly records = new Loader<NightRecords>();
  readonly weather = new Loader<WeatherSettings>();
  private for = "";

  /** Turns to a site on a day; what was typed for another one does not count there. */
  turnTo(siteId: string, today: Day): void {
    const key = `${siteId} ${today}`;
    if (this.for === key) return;
    this.for = key;
    this.calls.value = undefined;
    this.records.value = undefined;
    this.said = recall(siteId, today);
  }

  say(siteId: string, today: Day, said: Outlook): void {
    keep(siteId, today, said);
    this.said = said;
  }

  ask(siteId: string): Promise<TonightCall | undefined> {
    const request = requestOf(siteId, this.said);
    return this.calls.load(() => call("tonight", request));
  }

  askRecords(siteId: string): Promise<NightRecords | undefined> {
    return this.records.load(() => call("night_record", { site_id: siteId, most: null }));
  }

  askWeather(siteId: string): Promise<WeatherSettings | undefined> {
    return this.weather.load(() => call("weather_settings", { site_id: siteId }));
  }
}

export const night = new Night();
