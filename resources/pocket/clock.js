// The page's clock: the phone's with an offset, or a rehearsal's. Moments are seconds of POSIX time.

const plan = JSON.parse(document.getElementById("plan").textContent);
const at = (id) => document.getElementById(id);

let offset_s = 0;
// In a rehearsal: the moment shown, and the phone's moment at which it began to run, or null while it stands.
let rehearsal = null;

const phoneNow = () => Date.now() / 1000 + offset_s;

function shownNow() {
  if (rehearsal === null) return phoneNow();
  return rehearsal.at + (rehearsal.ran_from === null ? 0 : phoneNow() - rehearsal.ran_from);
}

// A second begins when the clock shows it: what a clock shows is cut, never rounded.
const iso = (utc_s) => new Date(Math.round(utc_s * 1000)).toISOString();
const clockText = (utc_s) => iso(Math.floor(utc_s)).slice(11, 19);

function localText(utc_s) {
  let ahead_s = plan.local_offsets[0][1];
  for (const [from_s, following_s] of plan.local_offsets) if (from_s <= utc_s) ahead_s = following_s;
  return clockText(utc_s + ahead_s);
}

// What is left, counted up to the next whole second: 0:00 is now.
function leftText(seconds) {
  const whole = Math.max(Math.ceil(seconds), 0);
  const two = (n) => String(n).padStart(2, "0");
  const [h, m, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  if (h >= 48) return `${Math.floor(h / 24)} days`;
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

// What is typed is kept where the phone allows it, and while the page is open in any case.
function kept(store, key) {
  try { return window[store].getItem(key); } catch { return null; }
}

function keep(store, key, text) {
  try { window[store].setItem(key, text); return true; } catch { return false; }
}

function say(id, text) {
  const element = at(id);
  if (element.textContent !== text) element.textContent = text;
  if (element.hidden !== (text === "")) element.hidden = text === "";
}
