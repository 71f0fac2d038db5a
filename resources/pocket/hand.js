// The view of the present: what to set, which way to turn, what is left until the next line.

const acts = {set: "SET", hold: "HOLD", move: "MOVE", stay: "SET AND STAY", word: "DONE", wait: "SET, THEN WAIT", none: ""};
const turns = {cw: "turn clockwise", ccw: "turn counter-clockwise", "": ""};
const READY_S = 10;

function dial(id, [figure, round]) {
  say(id, figure);
  at(id).dataset.length = figure.length > 5 ? "longest" : figure.length > 4 ? "long" : "";
  at(`${id}-row`).hidden = figure === "";
  say(`${id}-round`, round === "" ? "" : `(${round})`);
}

function hand(kind, act, azimuth, elevation, turn, note) {
  at("hand").dataset.kind = kind;
  say("act", act);
  dial("az", azimuth);
  dial("el", elevation);
  say("turn", turn);
  say("note", note);
}

function bar(now, from_s, to_s) {
  const shown = to_s !== null && to_s > from_s;
  at("bar").hidden = !shown;
  if (!shown) return;
  const share = Math.min(Math.max((to_s - now) / (to_s - from_s), 0), 1);
  at("left").style.width = `${(100 * share).toFixed(2)}%`;
}

const dialsText = (azimuth, elevation) =>
  [["AZ", azimuth], ["EL", elevation]].filter(([, [figure]]) => figure !== "")
    .map(([axis, [figure, round]]) => `${axis} ${figure}${round === "" ? "" : ` (${round})`}`).join("  ");

const nameOf = (contact) => `${contact.number} of ${contact.of}: ${contact.satellite}`;

function lineView(now, contact, index) {
  const line = contact.lines[index];
  const over = line.until !== null && now >= line.until;
  let act = acts[line.kind];
  if (over) act = line.kind === "hold" ? "LET GO" : "BACK ON IT";
  else if (line.until !== null) act += ` until ${clockText(line.until)}`;
  // The notes of holds and moves say themselves which way to turn.
  const turn = line.until === null ? turns[line.turn] : "";
  hand(over ? "set" : line.kind, act, line.az, line.el, turn, line.note);
  const next = contact.lines[index + 1];
  const to_s = next === undefined ? contact.end : next.at;
  bar(now, line.at, to_s);
  const left = leftText(to_s - now);
  const ready = to_s - now <= READY_S;
  at("until").dataset.ready = false;
  at("then").dataset.ready = ready;
  say("earlier", earlierText(now, contact, index));
  say("until", `${next === undefined ? "ends" : ready ? "READY" : "next"} ${clockText(to_s)} in ${left}`);
  say("then", next === undefined ? "" : nextText(next, line));
}

// What was noted with an earlier line and still holds, such as being off the beam to a moment: the last one named.
function earlierText(now, contact, index) {
  const time = clockText(now);
  const noted = contact.lines.slice(0, index).filter((line) => {
    const [end] = (line.note.match(/\d\d:\d\d:\d\d/g) || []).slice(-1);
    return end !== undefined && aheadOf(time, end) > 0 && line.note !== contact.lines[index].note;
  }).pop();
  return noted === undefined ? "" : `Noted at ${clockText(noted.at)}: ${noted.note}`;
}

// Seconds from one time of day to another, at most half a day.
function aheadOf(time, other) {
  const seconds = (text) => text.split(":").reduce((sum, part) => 60 * sum + Number(part), 0);
  return ((seconds(other) - seconds(time) + 129600) % 86400) - 43200;
}

function nextText(next, line) {
  const held = next.kind === "hold" && line.kind === "hold" && next.until === line.until;
  if (held) return `Then ${dialsText(["", ""], next.el)}, still held`;
  if (next.kind === "word") return `Then: ${next.note}`;
  const what = {set: "", stay: "", hold: "HOLD to ", move: "MOVE to "}[next.kind];
  const turn = next.turn === "" ? "" : ` ${next.turn}`;
  const note = next.note === "" || what !== "" ? "" : `, ${next.note}`;
  return `Then ${what}${dialsText(next.az, next.el)}${turn}${note}`;
}

// The mark of the contact's verdict is the card's own.
function which(words, contact) {
  say("where", words);
  const number = contact === undefined ? "" : String(contact.number);
  const mark = at("mark");
  if (mark.dataset.number === number) return;
  mark.dataset.number = number;
  const own = contact === undefined ? null : document.querySelector(`#card-${number} .spans svg`);
  mark.replaceChildren(...(own === null ? [] : [own.cloneNode(true)]));
}

function contactView(now, {contact, line}) {
  which(nameOf(contact), contact);
  at("words").dataset.late = false;
  say("words", contact.told.join("; "));
  if (line >= 0) return lineView(now, contact, line);
  say("earlier", "");
  hand("none", "NOTHING TO SET", ["", ""], ["", ""], "", contact.verdict);
  bar(now, contact.start, contact.end);
  say("until", `ends ${clockText(contact.end)} in ${leftText(contact.end - now)}`);
  return say("then", "");
}

function waitingView(now, {contact, index}) {
  which(`Next, ${nameOf(contact)}`, contact);
  const none = contact.azimuth[0] === "";
  const turn = none ? "" : `In the contact: ${contact.posture}, azimuth ${contact.turn}.`;
  hand(none ? "none" : "wait", none ? "NOTHING TO SET" : acts.wait, contact.azimuth, contact.elevation, "", none ? contact.verdict : "");
  const moving = contact.move_by !== null;
  const from_s = index > 0 ? contacts[index - 1].end : Math.min(plan.start, contact.start - 3600);
  const to_s = moving && now < contact.move_by ? contact.move_by : contact.start;
  bar(now, from_s, to_s);
  const starts = `starts ${clockText(contact.start)} UTC (${localText(contact.start)}) in ${leftText(contact.start - now)}`;
  // First what the bar shrinks to.
  const ahead = moving && now < contact.move_by;
  at("until").dataset.ready = ahead && contact.move_by - now <= 60;
  at("then").dataset.ready = moving && !ahead;
  say("until", ahead ? `start moving by ${clockText(contact.move_by)}, in ${leftText(contact.move_by - now)}` : starts);
  say("then", ahead ? starts : moving ? `BE MOVING: latest start was ${clockText(contact.move_by)}` : "");
  at("words").dataset.late = contact.late;
  say("earlier", "");
    say("words", [contact.before, turn, contact.told.join("; ")].filter((text) => text !== "").join(" "));
}

function idleView(now, state) {
  at("until").dataset.ready = false;
  const day = iso(now).slice(0, 10);
  const told = {
    none: ["NO CONTACTS", "This evening has no contacts."],
    over: ["ALL IS OVER", `The last contact ended ${clockText(lastEnd_s)} UTC. Save the log.`],
    early: ["NOT THIS EVENING", `This page is for ${plan.hours}. By this clock it is ${day} now: the evening begins in ${leftText(plan.start - now)}.`],
    late: ["NOT THIS EVENING", `This page is for ${plan.hours}. By this clock it is ${day} now: that evening is over.`],
  }[state];
  which("");
  hand("none", told[0], ["", ""], ["", ""], "", told[1]);
  bar(now, 0, null);
  for (const id of ["until", "then", "words", "earlier"]) say(id, "");
}

const logWords = ({state, index}) =>
  state === "contact" ? "Log this contact" : state === "over" || index > 0 ? "Log the last contact" : "";

function show() {
  const now = shownNow();
  const moment = momentAt(now);
  say("utc", clockText(now));
  say("local", localText(now));
  document.documentElement.dataset.state = moment.state;
  if (moment.state === "contact") contactView(now, moment);
  else if (moment.state === "waiting") waitingView(now, moment);
  else idleView(now, moment.state);
  const other = moment.state === "contact" ? contacts[moment.index + 1] : undefined;
  say("also", other === undefined ? "" : `After it: ${nameOf(other)}, starts ${clockText(other.start)} in ${leftText(other.start - now)}`);
  say("log-this", rehearsal !== null ? "" : logWords(moment));
  if (rehearsal !== null && rehearsal.ran_from !== null) at("at").value = String(Math.floor(now));
}
