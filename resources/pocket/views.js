// The four views, the colours, the clock's offset, and the rehearsal.

function openView(name) {
  document.documentElement.dataset.view = name;
  for (const button of at("rail").children) button.setAttribute("aria-current", String(button.dataset.to === name));
  window.scrollTo(0, 0);
}

function startViews() {
  for (const id of ["now", "log", "settings", "rail"]) at(id).hidden = false;
  for (const button of at("rail").children) button.addEventListener("click", () => openView(button.dataset.to));
  document.querySelector("[data-to=log]").hidden = contacts.length === 0;
  for (const card of document.querySelectorAll(".card")) foldCard(card);
  openView("now");
}

function foldCard(card) {
  const head = card.querySelector("h3");
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = head.textContent;
  button.setAttribute("aria-expanded", "false");
  button.addEventListener("click", () => {
    button.setAttribute("aria-expanded", String(card.classList.toggle("open")));
  });
  head.replaceChildren(button);
}

function startSchemes() {
  const key = `northkey-scheme`;
  const choose = (name) => {
    document.documentElement.dataset.scheme = name;
    for (const input of document.getElementsByName("scheme")) input.checked = input.value === name;
  };
  for (const input of document.getElementsByName("scheme")) {
    input.addEventListener("change", () => { choose(input.value); keep("sessionStorage", key, input.value); });
  }
  if (kept("sessionStorage", key) === "dusk") choose("dusk");
}

function takeOffset(text) {
  const seconds = Number(text.trim().replace(",", ".").replace("−", "-"));
  if (!Number.isFinite(seconds) || Math.abs(seconds) > 86400) return say("offset-told", "That is no number of seconds up to a day: the offset stays as it was.");
  offset_s = seconds;
  say("offset-told", seconds === 0 ? "" : `Clock of this page: phone ${seconds > 0 ? "+" : "-"} ${Math.abs(seconds)} s.`);
  return show();
}

function startOffset() {
  const key = `northkey-offset-${plan.identity}`;
  const field = at("offset");
  field.value = kept("sessionStorage", key) ?? "0";
  takeOffset(field.value);
  // Once it is typed, not while: half a number is another number.
  field.addEventListener("change", () => { takeOffset(field.value); keep("sessionStorage", key, String(offset_s)); });
}

function rehearse(utc_s, runs) {
  const slider = at("at");
  const moment = Math.min(Math.max(utc_s, Number(slider.min)), Number(slider.max));
  rehearsal = {at: moment, ran_from: runs ? phoneNow() : null};
  slider.value = String(Math.floor(moment));
  showRehearsal();
}

function showRehearsal() {
  const on = rehearsal !== null;
  document.documentElement.toggleAttribute("data-rehearsal", on);
  at("rehearsal").hidden = !on;
  const runs = on && rehearsal.ran_from !== null;
  at("run").setAttribute("aria-pressed", String(runs));
  at("run").textContent = runs ? "Stand still" : "Let it run";
  show();
}

function toLine(step) {
  const now = Math.floor(shownNow());
  const moments = changes();
  const found = step > 0 ? moments.find((moment) => moment > now) : moments.filter((moment) => moment < now).pop();
  if (found !== undefined) rehearse(found, false);
}

// `#at=2024-11-01T17:20:00Z` opens the page in a rehearsal that stands at that moment.
function followAddress() {
  const found = /^#at=([-0-9T:.Z]+)$/.exec(window.location.hash);
  const utc_s = found === null ? NaN : Date.parse(found[1]) / 1000;
  if (Number.isFinite(utc_s)) { openView("now"); rehearse(utc_s, false); }
}

function startRehearsal() {
  const slider = at("at");
  slider.min = String(Math.floor(Math.min(plan.start, contacts.length ? contacts[0].start : plan.start) - 600));
  slider.max = String(Math.ceil(Math.max(plan.end, lastEnd_s) + 600));
  slider.addEventListener("input", () => rehearse(Number(slider.value), false));
  at("line-back").addEventListener("click", () => toLine(-1));
  at("line-on").addEventListener("click", () => toLine(1));
  at("run").addEventListener("click", () => rehearse(shownNow(), rehearsal.ran_from === null));
  at("to-clock").addEventListener("click", () => { rehearsal = null; showRehearsal(); });
  at("rehearse").addEventListener("click", () => { openView("now"); rehearse(Number(slider.min), false); });
  window.addEventListener("hashchange", followAddress);
  followAddress();
}
