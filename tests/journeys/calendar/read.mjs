// Reads a calendar file from the standard input with ical.js and prints its entries as JSON. Time zones come from the
// file's own VTIMEZONE: ical.js knows none by name.

import ICAL from "ical.js";

let text = "";
for await (const chunk of process.stdin) text += chunk;

const calendar = new ICAL.Component(ICAL.parse(text));
const fail = (message) => {
  throw new Error(message);
};

const zones = new Map(
  calendar.getAllSubcomponents("vtimezone").map((component) => {
    const zone = new ICAL.Timezone(component);
    return [zone.tzid, zone];
  }),
);

function instant(property) {
  const time = property.getFirstValue();
  if (time.isDate) return { date: time.toString() };
  const tzid = property.getParameter("tzid");
  const zone = tzid ? (zones.get(tzid) ?? fail(`no VTIMEZONE for ${tzid}`)) : ICAL.Timezone.utcTimezone;
  time.zone = zone;
  return { local: time.toString().replace("Z", ""), unix: time.toUnixTime(), zone: tzid };
}

function alarm(component) {
  const trigger = component.getFirstPropertyValue("trigger");
  return {
    action: component.getFirstPropertyValue("action"),
    description: component.getFirstPropertyValue("description"),
    seconds_after_start: trigger.toSeconds(),
  };
}

const entries = calendar.getAllSubcomponents("vevent").map((event) => ({
  uid: event.getFirstPropertyValue("uid"),
  sequence: event.getFirstPropertyValue("sequence"),
  stamp_unix: event.getFirstPropertyValue("dtstamp").toUnixTime(),
  summary: event.getFirstPropertyValue("summary"),
  description: event.getFirstPropertyValue("description"),
  location: event.getFirstPropertyValue("location"),
  categories: event.getFirstProperty("categories").getValues(),
  status: event.getFirstPropertyValue("status"),
  start: instant(event.getFirstProperty("dtstart")),
  end: instant(event.getFirstProperty("dtend")),
  alarms: event.getAllSubcomponents("valarm").map(alarm),
}));

console.log(
  JSON.stringify({
    product: calendar.getFirstPropertyValue("prodid"),
    version: calendar.getFirstPropertyValue("version"),
    name: calendar.getFirstPropertyValue("x-wr-calname"),
    zones: [...zones.keys()],
    entries,
  }),
);
