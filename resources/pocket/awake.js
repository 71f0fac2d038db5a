// The screen stays on while the operator wants it to, where the phone has a way to ask for that.

let awake = null;
let wanted = false;

function tellAwake(trouble) {
  at("awake").setAttribute("aria-pressed", String(wanted));
  say("awake-told", trouble);
}

// The phone lets go whenever the page is out of sight, so it is asked again when it is back.
async function stayAwake() {
  if (!wanted || document.visibilityState !== "visible") return;
  try { awake = await navigator.wakeLock.request("screen"); tellAwake(""); } catch {
    wanted = false;
    tellAwake("This phone does not allow it: lengthen its own time to sleep.");
  }
}

async function letSleep() {
  if (awake !== null) await awake.release();
  awake = null;
}

function startAwake() {
  at("awake").hidden = !("wakeLock" in navigator);
  at("awake").addEventListener("click", () => {
    wanted = !wanted;
    tellAwake("");
    return wanted ? stayAwake() : letSleep();
  });
  document.addEventListener("visibilitychange", stayAwake);
}
