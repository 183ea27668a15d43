// Expands calendar files with ical.js. Reads {"files": ["BEGIN:VCALENDAR…", …]} on standard
// input; writes, for each file, its occurrences as [uid, wall clock, moment in UTC or null].
import ICAL from "ical.js";

const MOST = 100000; // occurrences of one event; more means a rule without an end

function expand(text) {
  const calendar = new ICAL.Component(ICAL.parse(text));
  for (const zone of calendar.getAllSubcomponents("vtimezone")) {
    ICAL.TimezoneService.register(new ICAL.Timezone(zone));
  }
  const found = [];
  for (const component of calendar.getAllSubcomponents("vevent")) {
    if (component.getFirstPropertyValue("status") === "CANCELLED") continue;
    const event = new ICAL.Event(component);
    const occurrences = event.iterator();
    let next;
    for (let n = 0; (next = occurrences.next()); n += 1) {
      if (n >= MOST) throw new Error(`${event.uid} has no end`);
      const floats = next.zone === ICAL.Timezone.localTimezone || next.isDate;
      const moment = floats ? null : next.toJSDate().toISOString();
      found.push([event.uid, next.toString(), moment]);
    }
  }
  ICAL.TimezoneService.reset();
  return found;
}

let input = "";
for await (const chunk of process.stdin) input += chunk;
process.stdout.write(JSON.stringify(JSON.parse(input).files.map(expand)));
