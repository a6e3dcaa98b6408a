"use strict";
// What the pages do by themselves. The server knows everything and says every word; a page asks and shows.

const own = { "X-CardScan": "1" };
const $$ = (selector, root = document) => [...root.querySelectorAll(selector)];

/** Asks the server; where it wants another page, goes there. Gives the text of a part, or null. */
async function ask(address, options = {}) {
  const answer = await fetch(address, { ...options, headers: { ...own, ...options.headers } });
  lost(false);
  const go = answer.headers.get("X-CardScan-Go");
  if (go) {
    location.assign(go);
    return null;
  }
  if (answer.status === 204) return null;
  if (answer.status === 403 || answer.status === 421) {
    // Photos that are still here would be gone with the page.
    if (!isSending) location.reload();
    return null;
  }
  return answer.text();
}

/** Puts a part of the server's into its place, unless it is there already. The server has made every text in it safe. */
function show(place, part) {
  if (part === null || place.shown === part) return;
  // A button that is changed between press and release is not pressed.
  if (pressed && place.contains(pressed)) {
    held.set(place, part);
    return;
  }
  place.shown = part;
  const focused = place.contains(document.activeElement) ? document.activeElement.id : "";
  place.innerHTML = part;
  tellTaken(place);
  if (focused) document.getElementById(focused)?.focus();
}

// What a finger is on stays as it is until it is lifted.

let pressed = null;
const held = new Map();

addEventListener("pointerdown", event => { pressed = event.target; }, true);
// The click comes after it.
["pointerup", "pointercancel"].forEach(name => addEventListener(name, () => setTimeout(release, 50), true));
addEventListener("blur", release);

function release() {
  pressed = null;
  const parts = [...held];
  held.clear();
  parts.forEach(([place, part]) => {
    show(place, part);
    settle(place);
  });
}

/** What is taken where a field is left empty stands in it, pale. */
function tellTaken(place) {
  $$("[data-taken]", place).forEach(each => document.getElementById(each.dataset.taken)?.setAttribute("placeholder", each.dataset.words));
}

tellTaken(document);

// Parts that follow what happens elsewhere.

let bell = null;

async function refresh(place) {
  try {
    show(place, await ask(place.dataset.from));
  } catch {
    lost(true);
  }
}

function lost(isLost) {
  const words = document.getElementById("lost");
  if (words) words.hidden = !isLost;
}

let listening = null;

/** Listens anew: a phone that was locked may hold a connection that is dead without saying so. */
function listen() {
  const places = $$("[data-live]");
  if (places.length === 0) return;
  hush();
  bell = new EventSource("/changes");
  bell.addEventListener("ready", () => places.forEach(refresh));
  bell.addEventListener("change", event => places.filter(each => each.dataset.live.split(" ").includes(event.data)).forEach(refresh));
  bell.addEventListener("error", () => {
    lost(true);
    // A browser tries again by itself where nobody answers; where it is turned away it does not.
    if (bell?.readyState !== EventSource.CLOSED) return;
    places.forEach(refresh);
    listening = setTimeout(listen, 3000);
  });
}

function hush() {
  clearTimeout(listening);
  bell?.close();
}

// A page that nobody sees does not listen: a browser has six connections to a computer for all its pages together.
document.addEventListener("visibilitychange", () => document.visibilityState === "visible" ? listen() : hush());
addEventListener("pageshow", listen);
addEventListener("pagehide", hush);

// Forms whose answer follows every change.

const following = new WeakMap();

/** The form that was sent off before its part had followed what was typed last: it is sent when it has. */
let due = null;

function settle(place) {
  place.removeAttribute("aria-busy");
  if (due?.place !== place) return;
  const { action } = due;
  due = null;
  $$("form[data-post]", place).find(form => form.getAttribute("action") === action)?.requestSubmit();
}

function follow(form) {
  clearTimeout(following.get(form)?.timer);
  following.get(form)?.abort.abort();
  const abort = new AbortController();
  const place = document.getElementById(form.dataset.follow);
  // Until the answer is there, what stands in it is behind; an answer to what was asked before is of no use.
  place.setAttribute("aria-busy", "true");
  held.delete(place);
  const timer = setTimeout(async () => {
    const address = `${form.getAttribute("action")}?${new URLSearchParams(new FormData(form))}`;
    try {
      show(place, await ask(address, { signal: abort.signal }));
    } catch (fault) {
      if (fault.name === "AbortError") return;
      due = null;
      lost(true);
      return;
    }
    if (!abort.signal.aborted && !held.has(place)) settle(place);
  }, 40);
  following.set(form, { timer, abort });
}

document.addEventListener("input", event => {
  const slider = event.target.closest(".slider");
  if (slider) {
    // The number changes, its unit stays as the server wrote it.
    const output = slider.querySelector("output");
    output.textContent = output.textContent.replace(/[\d.,]+/, event.target.value);
  }
  const form = event.target.closest("form[data-follow]");
  if (form) follow(form);
});

// Forms that do something, and links that fill a place beside them.

document.addEventListener("submit", async event => {
  const form = event.target;
  if (form.matches("[data-follow]")) {
    event.preventDefault();
    return;
  }
  if (!form.matches("[data-post]")) return;
  event.preventDefault();
  const behind = form.closest("[aria-busy]");
  if (behind) {
    due = { place: behind, action: form.getAttribute("action") };
    follow(document.querySelector(`form[data-follow="${behind.id}"]`));
    return;
  }
  const place = form.dataset.into ? document.getElementById(form.dataset.into) : form.closest("[data-live]") ?? form;
  const body = new URLSearchParams(new FormData(form, event.submitter));
  $$("button", form).forEach(button => { button.disabled = true; });
  try {
    show(place, await ask(form.getAttribute("action"), { method: "POST", body }));
    if (form.isConnected && !place.querySelector(".refusal")) form.reset();
  } catch {
    lost(true);
  }
  $$("button", form).forEach(button => { button.disabled = false; });
});

document.addEventListener("click", async event => {
  const link = event.target.closest("a[data-into]");
  if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
    const place = document.getElementById(link.dataset.into);
    if (!place) return;
    event.preventDefault();
    const address = link.getAttribute("href");
    $$(`a[data-into="${link.dataset.into}"]`).forEach(each => each.classList.toggle("chosen", each === link));
    try {
      show(place, await ask(address));
      history.replaceState(null, "", address);
    } catch {
      lost(true);
    }
  }
  const lens = event.target.closest("[data-zoom]");
  if (lens) zoom(document.getElementById(lens.dataset.zoom), Number(lens.dataset.times));
  if (event.target.closest("[data-print]")) print();
  const copy = event.target.closest("[data-copy]");
  if (copy) copyFrom(document.getElementById(copy.dataset.copy), copy);
});

/** Makes the pictures of a place larger in their windows, up to six times; what was in the middle stays there. */
function zoom(place, times) {
  const before = Number(place.style.getPropertyValue("--zoom") || 1);
  const after = Math.min(6, Math.max(1, before * times));
  const windows = $$(".scroller", place).map(each => [each, each.scrollLeft + each.clientWidth / 2, each.scrollTop + each.clientHeight / 2]);
  place.style.setProperty("--zoom", after);
  for (const [each, x, y] of windows) each.scrollTo(x * after / before - each.clientWidth / 2, y * after / before - each.clientHeight / 2);
}

/** Over plain http there is no clipboard for scripts: the text is selected and the browser's own command copies it. */
function copyFrom(field, button) {
  field.focus();
  field.select();
  if (document.execCommand("copy")) button.textContent = button.dataset.done;
}

// Photos: sent as they are, in pieces, one after the other; what is broken off goes on where it stopped.

const pieceBytes = 1 << 20;
const outside = new Error("outside");
const sending = [];
let isSending = false;

// A button that is a file field opens with Enter too, as every button does.
document.addEventListener("keydown", event => {
  if (event.key === "Enter" && event.target.matches("input[data-photos]")) event.target.click();
});

document.addEventListener("change", event => {
  const input = event.target;
  if (!input.matches("input[data-photos]")) return;
  const list = document.getElementById("sending");
  for (const file of input.files) {
    const item = document.createElement("li");
    const words = document.createElement("p");
    const bar = document.createElement("progress");
    const picture = document.createElement("img");
    item.className = "photo";
    words.className = "name";
    words.textContent = file.name;
    bar.max = file.size;
    bar.value = 0;
    bar.setAttribute("aria-label", file.name);
    picture.alt = "";
    picture.src = URL.createObjectURL(file);
    item.append(picture, words, bar);
    list.prepend(item);
    sending.push({ file, item, words, bar, picture, to: input.dataset.to ?? "/photos" });
  }
  input.value = "";
  sendAll(list.dataset);
});

async function sendAll(say) {
  if (isSending) return;
  isSending = true;
  while (sending.length > 0) await send(sending.shift(), say);
  isSending = false;
}

addEventListener("beforeunload", event => { if (isSending) event.preventDefault(); });

async function send(photo, say) {
  if (photo.to === "/photos") await glance(photo);
  let id = null;
  for (let wait = 500; ; wait = Math.min(2 * wait, 8000)) {
    try {
      id ??= await begin(photo);
      if (id === null) return;
      const end = await rest(photo, id);
      if (end) {
        URL.revokeObjectURL(photo.picture.src);
        if (end.words) photo.item.textContent = end.words;
        else photo.item.remove();
        return;
      }
      if (photo.isRefused) return;
      id = null; // the server was started anew and knows nothing of it
    } catch (fault) {
      photo.words.textContent = `${photo.file.name} · ${fault === outside ? say.outside : say.again}`;
      await new Promise(done => setTimeout(done, wait));
      photo.words.textContent = photo.file.name;
    }
  }
}

/** Shows a small copy first, so that what is wrong with a photo is told while the card still lies there. */
async function glance(photo) {
  try {
    const bitmap = await createImageBitmap(photo.file);
    const scale = Math.min(1, 1600 / Math.max(bitmap.width, bitmap.height));
    const canvas = new OffscreenCanvas(Math.round(bitmap.width * scale), Math.round(bitmap.height * scale));
    const pen = canvas.getContext("2d");
    pen.imageSmoothingQuality = "high";
    pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    const body = await canvas.convertToBlob({ type: "image/jpeg", quality: 0.85 });
    const asked = new URLSearchParams({ name: photo.file.name });
    const place = document.createElement("div");
    photo.item.append(place);
    show(place, await ask(`/photos/look?${asked}`, { method: "POST", body, signal: AbortSignal.timeout(4000) }));
  } catch {
    // No browser can show every format; the photo itself is looked at when it is there.
  }
}

/** Begins a delivery. Gives its id, or null where it is refused; then the refusal stands in its place. */
async function begin(photo) {
  for (;;) {
    const asked = new URLSearchParams({ name: photo.file.name, size: photo.file.size });
    const answer = await fetch(`${photo.to}?${asked}`, { method: "POST", headers: own });
    if (answer.ok) return (await answer.json()).id;
    if (answer.status === 403) throw outside;
    if (answer.status !== 429) {
      refuse(photo, await answer.text());
      return null;
    }
    await new Promise(done => setTimeout(done, 2000));
  }
}

/** Sends what the server has not. Gives how it ended, or null where the server does not know the delivery or refuses it. */
async function rest(photo, id) {
  const known = await fetch(`${photo.to}/${id}`, { headers: own });
  if (known.status === 403) throw outside;
  if (known.status === 404) return null;
  if (!known.ok) {
    refuse(photo, await known.text());
    return null;
  }
  let state = await known.json();
  while (!state.done) {
    const answer = await piece(photo, id, state.at);
    if (answer.status === 404) return null;
    if (answer.status === 403) throw outside;
    if (answer.status !== 200) {
      refuse(photo, answer.responseText);
      return null;
    }
    state = JSON.parse(answer.responseText);
    photo.bar.value = state.at;
  }
  return state;
}

/** One piece. Only the older way of asking tells how far a piece has come. */
function piece(photo, id, at) {
  return new Promise((done, fail) => {
    const request = new XMLHttpRequest();
    request.open("PUT", `${photo.to}/${id}?at=${at}`);
    request.setRequestHeader("X-CardScan", "1");
    request.setRequestHeader("Content-Type", "application/octet-stream");
    request.upload.onprogress = event => { photo.bar.value = at + event.loaded; };
    request.onload = () => done(request);
    request.onerror = fail;
    request.ontimeout = fail;
    request.timeout = 60000;
    request.send(photo.file.slice(at, at + pieceBytes));
  });
}

function refuse(photo, part) {
  photo.isRefused = true;
  photo.bar.remove();
  const place = document.createElement("div");
  place.innerHTML = part;
  photo.item.append(place);
}
