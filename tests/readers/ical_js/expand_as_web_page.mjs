// Expands calendar files with ical-expander, as web pages do: by zone data of its own, some years
// old. Reads {"files": ["BEGIN:VCALENDAR…", …]} on standard input; writes, for each file, its
// timed occurrences as [uid, wall clock, null].
import IcalExpander from "ical-expander";

const MOST = 100000; // occurrences of one event; more means a rule without an end

function expand(ics) {
  const expander = new IcalExpander({ ics, maxIterations: MOST });
  const { events, occurrences } = expander.all();
  const found = [];
  for (const event of events) {
    if (event.component.getFirstPropertyValue("status") === "CANCELLED") continue;
    if (!event.startDate.isDate) found.push([event.uid, event.startDate.toString(), null]);
  }
  for (const occurrence of occurrences) {
    if (occurrence.item.component.getFirstPropertyValue("status") === "CANCELLED") continue;
    found.push([occurrence.item.uid, occurrence.startDate.toString(), null]);
  }
  return found;
}

let input = "";
for await (const chunk of process.stdin) input += chunk;
process.stdout.write(JSON.stringify(JSON.parse(input).files.map(expand)));
