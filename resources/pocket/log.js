// What was worked: typed here, kept on the phone, saved as a file that Northkey reads back.

const logKey = `northkey-log-${plan.identity}`;
const fields = {azimuth: "log-az", elevation: "log-el", time: "log-time", last: "log-last", note: "log-note"};
let typed = {};

function readKept() {
  try {
    const found = JSON.parse(kept("localStorage", logKey) ?? "{}");
    return found !== null && typeof found === "object" && !Array.isArray(found) ? found : {};
  } catch { return {}; }
}

const chosen = () => contacts[Number(at("log-contact").value)];
const keyOf = (contact) => `${contact.norad_id} ${contact.near}`;

function numberOf(text) {
  const plain = text.trim().replace(",", ".").replace("−", "-");
  if (plain === "") return null;
  const value = /^[-+]?\d+(\.\d*)?$/.test(plain) ? Number(plain) : NaN;
  // The log that is read back has no other figures.
  return Math.abs(value) <= 3600 ? value : NaN;
}

// A time of day is the one nearest to the contact's peak; NaN where it is none.
function momentOf(text, contact) {
  const found = /^(\d{1,2}):?(\d{2})(?::?(\d{2}))?$/.exec(text.trim());
  if (text.trim() === "") return null;
  if (found === null) return NaN;
  const [h, m, s] = [Number(found[1]), Number(found[2]), Number(found[3] ?? 0)];
  if (h > 23 || m > 59 || s > 59) return NaN;
  const near = Date.parse(contact.near) / 1000;
  const day = Math.floor(near / 86400) * 86400;
  const moments = [-86400, 0, 86400].map((days) => day + days + h * 3600 + m * 60 + s);
  return moments.reduce((best, moment) => (Math.abs(moment - near) < Math.abs(best - near) ? moment : best));
}

const orNull = (value) => (value === null || Number.isNaN(value) ? null : value);
const isoOrNull = (value) => (orNull(value) === null ? null : iso(value));

function entryOf(contact, one) {
  return {
    norad_id: contact.norad_id, near: contact.near, worked: one.worked === "" ? null : one.worked === "true",
    azimuth_dial_deg: orNull(numberOf(one.azimuth)), elevation_dial_deg: orNull(numberOf(one.elevation)),
    time: isoOrNull(momentOf(one.time, contact)), last_heard: isoOrNull(momentOf(one.last, contact)), note: lineOf(one.note),
  };
}

// A note is one line in the file: what breaks lines is a space, and marks that turn the writing go.
const lineOf = (text) => text.replace(/(?![\u200c\u200d])\p{Cf}/gu, "").replace(/[\p{Cc}\s]+/gu, " ").trim();

const emptyOne = () => ({worked: "", azimuth: "", elevation: "", time: "", last: "", note: ""});
const oneOf = (contact) => ({...emptyOne(), ...typed[keyOf(contact)]});
const isEmpty = (one) => Object.values(one).every((text) => text === "");

function logText() {
  const log = contacts.map((contact) => [contact, oneOf(contact)]).filter(([, one]) => !isEmpty(one))
    .map(([contact, one]) => entryOf(contact, one));
  const all = {format: "northkey-log", version: 1, identity: plan.identity, title: plan.title.replaceAll("\u200b", ""), log};
  return `${JSON.stringify(all, null, 1)}\n`;
}

function troubleOf(contact, one) {
  const found = [];
  for (const [name, words] of [["azimuth", "Azimuth dial"], ["elevation", "Elevation dial"]]) {
    if (Number.isNaN(numberOf(one[name]))) found.push(`${words}: a number of degrees.`);
  }
  for (const [name, words] of [["time", "Best signal"], ["last", "Last heard"]]) {
    if (Number.isNaN(momentOf(one[name], contact))) found.push(`${words}: a time in UTC such as 18:04:30.`);
  }
  return found.length === 0 ? "" : `${found.join(" ")} What is not understood is left out of the file.`;
}

function takeTyped() {
  const contact = chosen();
  const worked = document.querySelector("input[name=worked]:checked");
  const one = {worked: worked === null ? "" : worked.value};
  for (const [name, id] of Object.entries(fields)) one[name] = at(id).value;
  typed[keyOf(contact)] = one;
  const safe = keep("localStorage", logKey, JSON.stringify(typed));
  say("log-kept", safe ? "Kept on this phone." : "Kept only while this page is open: save the file.");
  say("saved", "");
  tellLog();
}

function tellLog() {
  const contact = chosen();
  say("log-trouble", troubleOf(contact, oneOf(contact)));
  at("log-text").value = logText();
}

function showChosen() {
  const one = oneOf(chosen());
  for (const input of document.getElementsByName("worked")) input.checked = input.value === one.worked;
  for (const [name, id] of Object.entries(fields)) at(id).value = String(one[name]);
  tellLog();
}

function saveLog() {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([logText()], {type: "application/json"}));
  link.download = `northkey-log-${plan.identity}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  say("saved", `Saved as ${link.download}, where this phone keeps its downloads.`);
}

function openLog() {
  const moment = momentAt(phoneNow());
  const index = {contact: moment.index, waiting: moment.index - 1, over: contacts.length - 1}[moment.state];
  if (index >= 0) at("log-contact").value = String(index);
  showChosen();
  openView("log");
}

function startLog() {
  if (contacts.length === 0) return;
  typed = readKept();
  contacts.forEach((contact, index) => at("log-contact").add(new Option(`${contact.number}: ${contact.satellite}, ${clockText(contact.start)}`, String(index))));
  at("log-contact").addEventListener("change", showChosen);
  for (const id of Object.values(fields)) at(id).addEventListener("input", takeTyped);
  for (const input of document.getElementsByName("worked")) input.addEventListener("change", takeTyped);
  for (const [button, field] of [["best-now", "log-time"], ["heard-now", "log-last"]]) {
    at(button).addEventListener("click", () => { at(field).value = clockText(phoneNow()); takeTyped(); });
  }
  at("save").addEventListener("click", saveLog);
  at("log-this").addEventListener("click", openLog);
  showChosen();
}
