// What can be measured of the page as it is shown: contrast, what is touched, what runs over the edge.
const visible = (e) => e.checkVisibility() && e.getClientRects().length > 0;
const channels = (text) => (text.match(/[\d.]+/g) || []).map(Number);
const light = (rgb) => {
  const [r, g, b] = rgb.slice(0, 3).map((c) => c / 255).map((c) => (c <= .04045 ? c / 12.92 : ((c + .055) / 1.055) ** 2.4));
  return .2126 * r + .7152 * g + .0722 * b;
};
const ratio = (a, b) => {
  const [x, y] = [light(a), light(b)].sort((p, q) => q - p);
  return (x + .05) / (y + .05);
};
// All colours that can lie behind an element: its own ground, or its nearest ancestor's; of stripes each.
const grounds = (e) => {
  for (let at = e; at !== null; at = at.parentElement) {
    const style = getComputedStyle(at);
    const stripes = (style.backgroundImage.match(/rgba?\([^)]*\)/g) || []).map(channels);
    const own = channels(style.backgroundColor);
    if (stripes.length > 0) return stripes;
    if (own.length === 3 || own[3] === 1) return [own];
  }
  return [[255, 255, 255]];
};
const texts = () => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (walker.currentNode.data.trim() !== "" && visible(e) && !["SCRIPT", "NOSCRIPT"].includes(e.tagName)) found.push(e);
  }
  document.querySelectorAll("input:not([type=radio]):not([type=range]), textarea, select").forEach((e) => visible(e) && found.push(e));
  return [...new Set(found)];
};
const pale = () => texts().flatMap((e) => {
  const style = getComputedStyle(e);
  const drawn = e.closest("svg") !== null;
  if (drawn && e.closest("[fill=white]") !== null) return [];
  const ink = channels(drawn ? style.fill : style.color);
  const pixels = parseFloat(style.fontSize);
  const large = pixels >= 24 || (pixels >= 18.66 && Number(style.fontWeight) >= 700);
  const least = Math.min(...grounds(e).map((ground) => ratio(ink, ground)));
  return least < (large && !drawn ? 3 : 4.5) ? [[e.id || e.tagName, e.textContent.slice(0, 30), least]] : [];
});
const brightest = () => Math.max(...[...document.querySelectorAll("body, body *")].filter(visible).flatMap((e) => {
  const style = getComputedStyle(e);
  const stripes = (style.backgroundImage.match(/rgba?\([^)]*\)/g) || []).map(channels);
  return [channels(style.color), channels(style.backgroundColor), channels(style.borderTopColor), ...stripes]
    .filter((c) => c.length === 3 || c[3] > 0).flatMap((c) => c.slice(0, 3));
}));
const small = () => [...document.querySelectorAll("button, select, textarea, input, label.tick")].filter(visible).flatMap((e) => {
  if (e.type === "radio") return [];
  const box = e.getBoundingClientRect();
  return box.width < 44 || box.height < 44 ? [[e.id || e.textContent, box.width, box.height]] : [];
});
const beyond = () => [...document.querySelectorAll("body *")].filter(visible).flatMap((e) => {
  if (e.closest("svg") !== null) return [];
  const box = e.getBoundingClientRect();
  return box.right > innerWidth + .5 || box.left < -.5 || e.scrollWidth > innerWidth ? [[e.id || e.tagName, e.textContent.slice(0, 20), box.right]] : [];
});
const outside = () => [...document.querySelectorAll("#hand *")].filter(visible).flatMap((e) => {
  const frame = document.getElementById("hand"), style = getComputedStyle(frame), box = frame.getBoundingClientRect();
  const inner = [box.left + parseFloat(style.borderLeftWidth), box.right - parseFloat(style.borderRightWidth)];
  const range = document.createRange();
  range.selectNodeContents(e);
  const own = range.getBoundingClientRect();
  return own.left < inner[0] - .5 || own.right > inner[1] + .5 ? [[e.id, e.textContent, own.right, inner[1]]] : [];
});
const sizes = () => Object.fromEntries(texts().filter((e) => e.closest("#now") !== null)
  .map((e) => [e.id || e.textContent, parseFloat(getComputedStyle(e).fontSize)]));
return ({pale, brightest, small, beyond, outside, sizes})[arguments[0]]();
