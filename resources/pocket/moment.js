// Which part of the evening a moment is in. Nothing is looked up here but by the clock.

// A line of the plan's lists: seconds are counted from the contact's start.
const LINE = ([kind, after_s, until_s, azimuth, azimuthRound, elevation, elevationRound, turn, note], start) => ({
  kind, turn, note, at: start + after_s, until: until_s === null ? null : start + until_s,
  az: [azimuth, azimuthRound], el: [elevation, elevationRound],
});
const contacts = plan.contacts.map((contact) => ({...contact, lines: contact.lines.map((line) => LINE(line, contact.start))}));
const lastEnd_s = contacts.reduce((end, contact) => Math.max(end, contact.end), plan.start);

const lastAt = (list, key, utc_s) => {
  let found = -1;
  for (let i = 0; i < list.length && list[i][key] <= utc_s; i++) found = i;
  return found;
};

// state: none (no contacts), early and late (another day), over, waiting (for the next contact), contact.
function momentAt(utc_s) {
  if (utc_s < plan.start - plan.near_s) return {state: "early"};
  if (utc_s > plan.end + plan.near_s) return {state: "late"};
  if (contacts.length === 0) return {state: "none"};
  const here = lastAt(contacts, "start", utc_s);
  if (here >= 0 && utc_s <= contacts[here].end) {
    const contact = contacts[here];
    return {state: "contact", index: here, contact, line: lastAt(contact.lines, "at", utc_s)};
  }
  if (here + 1 < contacts.length) return {state: "waiting", index: here + 1, contact: contacts[here + 1]};
  return {state: "over"};
}

// Every moment at which something changes, for the steps of a rehearsal.
function changes() {
  const found = contacts.flatMap((contact) => [contact.start, ...contact.lines.map((line) => line.at)]);
  return [...new Set(found)].sort((a, b) => a - b);
}
