"use strict";
/* What is typed goes to the file at once, and only what changed on the page is replaced. Without this script all works by
   plain forms. */
(() => {
  const JSON_PLEASE = { headers: { accept: "application/json" } };
  const byId = (id) => document.getElementById(id);
  document.documentElement.classList.add("js");

  /* one thing after the other */
  let chain = Promise.resolve();
  const inTurn = (task) => {
    chain = chain.then(task).catch((error) => say("", failed(error)));
    return chain;
  };
  const failed = (error) => "This did not work: " + error.message;

  /* what is still being waited for in a part of the page will not come; what a page that is left still asked for does not count */
  let leftAt = 0;
  const brokeOff = (id) => (error) => {
    if (Date.now() - leftAt < 3000) return;
    for (const one of document.querySelectorAll("#" + id + " .busy")) {
      one.classList.remove("busy");
      one.textContent = byId("alarm").dataset.broke;
    }
    say("", failed(error));
  };

  /* an answer of the page's program; all else is an error */
  async function ask(address, more) {
    let response;
    try {
      response = await fetch(address, { ...JSON_PLEASE, ...more });
    } catch {
      throw new Error(byId("alarm").dataset.silent);
    }
    if (response.ok || response.status === 409) return response.json();
    throw new Error(await response.text());
  }

  let quieting = 0;
  function say(text, alarm) {
    byId("said").textContent = text || "";
    byId("alarm").textContent = alarm || "";
    clearTimeout(quieting);
    if (text && !alarm) quieting = setTimeout(() => { byId("said").textContent = ""; }, 6000);
  }

  /* what a field said when the page came, or when it was last taken */
  function before(field) {
    if (field.tagName !== "SELECT") return field.defaultValue;
    const chosen = [...field.options].find((option) => option.defaultSelected);
    return chosen ? chosen.value : field.options.length ? field.options[0].value : "";
  }
  function took(field, value) {
    if (field.tagName !== "SELECT") field.defaultValue = value;
    else for (const option of field.options) option.defaultSelected = option.value === value;
  }
  const answers = (form) => [...form.elements].filter((one) => one.name && /^(\/|rename:)/.test(one.name));
  const changed = (form) => answers(form).filter((one) => one.value !== before(one));

  /* a part of the page made anew: what is typed, where one is, and what is unfolded stay */
  function swap(id, html) {
    const old = byId(id);
    if (!old) return;
    const here = document.activeElement;
    const back = old.contains(here) ? { id: here.id, value: here.value, start: here.selectionStart, end: here.selectionEnd } : null;
    const typed = [...old.querySelectorAll("input, select, textarea")].filter((one) => one.id && one.name && one.type !== "checkbox" && one.type !== "hidden" && one.value !== before(one));
    const open = new Map([...old.querySelectorAll("details[id]")].map((one) => [one.id, one.open]));
    const moved = [...old.querySelectorAll(".scroll[id]")].filter((one) => one.scrollLeft).map((one) => [one.id, one.scrollLeft]);
    const fresh = old.cloneNode(false);
    fresh.innerHTML = html;
    for (const one of fresh.querySelectorAll("details[id]")) if (open.get(one.id)) one.open = true;
    for (const one of typed) {
      const again = fresh.querySelector("#" + CSS.escape(one.id));
      if (again) again.value = one.value;
    }
    old.replaceWith(fresh);
    for (const [one, left] of moved) if (byId(one)) byId(one).scrollLeft = left;
    if (!back) return;
    const again = back.id ? byId(back.id) : [...fresh.querySelectorAll("button")].find((one) => one.value && one.value === back.value);
    if (!again) {  /* what was pressed is gone */
      fresh.tabIndex = -1;
      fresh.focus({ preventScroll: true });
      return;
    }
    again.focus({ preventScroll: true });
    if (back.start !== null && back.start !== undefined && again.setSelectionRange) {
      try { again.setSelectionRange(back.start, back.end); } catch { /* not a field of text */ }
    }
  }

  function showErrors(errors) {
    const form = byId("form");
    for (const field of answers(form)) {
      const told = errors[field.id] || [];
      const place = byId(field.id + "-error");
      if (place) place.textContent = told.join(" ");
      if (told.length) field.setAttribute("aria-invalid", "true");
      else field.removeAttribute("aria-invalid");
    }
  }

  /* later stages: only those of the last change count */
  let latest = 0;
  async function follow(address, wait, quietly) {
    const mine = ++latest;
    while (address && mine === latest) {
      if (wait) await new Promise((go) => setTimeout(go, wait));
      const answer = await ask(address);
      if (mine !== latest || answer.gone) return;
      put(answer, quietly);
      address = answer.follow;
      wait = answer.wait;
    }
  }

  function put(answer, quietly) {
    if (answer.revision) {
      for (const one of document.querySelectorAll("input[name=revision]")) one.value = answer.revision;
    }
    for (const [id, html] of Object.entries(answer.fragments || {})) swap(id, html);
    if (answer.errors) showErrors(answer.errors);
    if (byId("kept") && answer.kept !== undefined) byId("kept").hidden = !answer.kept;
    if (byId("undo") && answer.undo !== undefined) byId("undo").disabled = !answer.undo;
    if (answer.focus && byId(answer.focus)) {
      byId(answer.focus).focus();
      byId(answer.focus).scrollIntoView({ block: "center" });
    }
    if (answer.result && !quietly) say(answer.result);
  }

  async function post(form, fields, more) {
    const data = new FormData();
    for (const name of ["form_key", "revision", "shape"]) {
      const one = form.querySelector("input[name=" + name + "]");
      if (one) data.append(name, one.value);
    }
    for (const [name, value] of [...fields, ...Object.entries(more || {})]) data.append(name, value);
    return ask(form.action, { method: "POST", body: data });
  }

  function conflicted(text) {
    say("", text + " ");
    const again = document.createElement("button");
    again.type = "button";
    again.textContent = "Show the file as it is now";
    again.addEventListener("click", () => location.reload());
    byId("alarm").append(again);
  }

  /* the form: what changed, and a button if one was pressed */
  function save(form, button) {
    return inTurn(async () => {
      const fields = changed(form);
      if (!fields.length && !button) return true;
      const sent = fields.map((one) => [one.name, one.value]);
      const answer = await post(form, sent, button ? { do: button } : {});
      if (answer.conflict) { conflicted(answer.conflict); return false; }
      fields.forEach((one, index) => took(one, sent[index][1]));
      if (answer.location) { location.assign(answer.location); return false; }
      put(answer);
      const wrong = Object.values(answer.errors || {}).flat();
      const mine = fields.filter((one) => (answer.errors || {})[one.id]);
      if (answer.alert) say("", answer.alert);
      else if (mine.length) say("Not in the file yet: " + answer.errors[mine[0].id].join(" "));
      else if (answer.said) say(answer.said + (wrong.length ? " Some answers are not in the file yet." : ""));
      if (answer.follow) follow(answer.follow).catch(brokeOff("aside"));
      return true;
    });
  }

  async function leave(form, then) {
    let saved = true;
    await inTurn(async () => {});
    saved = await save(form).then(() => changed(form).length === 0);
    if (!saved || byId("alarm").textContent) return;
    const wrong = answers(form).find((one) => one.getAttribute("aria-invalid") === "true");
    if (wrong) { wrong.focus(); return; }
    location.assign(form.action.replace(/[^/]*$/, then));
  }

  document.addEventListener("change", (event) => {
    const form = event.target.form;
    if (form && form.hasAttribute("data-live") && /^(\/|rename:)/.test(event.target.name)) save(form);
    if (event.target.id === "run") otherWater().catch((error) => say("", failed(error)));
    if (event.target.name === "measure") switched(event.target);
  });

  document.addEventListener("submit", (event) => {
    const form = event.target, button = event.submitter;
    if (form.hasAttribute("data-live")) {
      event.preventDefault();
      if (button && button.name === "then") leave(form, button.value);
      else save(form, button && button.name === "do" ? button.value : "");
    } else if (form.id === "pond-form") {
      event.preventDefault();
    } else if (form.id === "measures" && button && button.name === "do") {
      event.preventDefault();
      act(form, button.value);
    } else if (form.id === "search-form" && button) {
      event.preventDefault();
      act(form, button.value);
    }
  });

  /* measures and plans */
  const chosen = () => [...document.querySelectorAll("input[name=measure]:checked")].map((one) => ["measure", one.value]);
  const PAUSE = 150;
  let trial = 0, waiting = 0;
  function switched(box) {
    if (box.checked) {
      for (const other of document.querySelectorAll("input[name=measure]:checked")) {
        if (other !== box && other.dataset.kind === box.dataset.kind) other.checked = false;
      }
    }
    ++trial;  /* what is asked of other measures would now take the place of these */
    clearTimeout(waiting);
    waiting = setTimeout(() => tryOut().catch(brokeOff("tried")), PAUSE);
  }
  async function tryOut() {
    const mine = ++trial, form = byId("measures");
    for (let stage = 0; ;) {
      const answer = await post(form, chosen(), { do: "try", stage: String(stage) });
      if (mine !== trial) return;
      if (answer.conflict) { conflicted(answer.conflict); return; }
      put(answer);
      if (!answer.again) return;
      stage = answer.stage;
    }
  }
  function act(form, what) {
    return inTurn(async () => {
      const answer = await post(form, form.id === "measures" ? chosen() : [], { do: what });
      if (answer.conflict) { conflicted(answer.conflict); return; }
      if (answer.location) {
        sessionStorage.setItem("said", answer.said || "");
        location.assign(answer.location);
        return;
      }
      put(answer);
      if (answer.follow) follow(answer.follow, answer.wait).catch(brokeOff("search"));
    });
  }

  /* the pond in time */
  let playing = 0;
  function showMoment() {
    const slider = byId("moment");
    const [shade, along, text] = JSON.parse(slider.dataset.moments)[Number(slider.value)];
    byId("moment-text").textContent = text;
    slider.setAttribute("aria-valuetext", text);
    byId("water-on-floor").setAttribute("class", "shade-" + shade);
    byId("water-time").setAttribute("x", String(along - 1.5));
  }
  function stopPlaying() {
    clearInterval(playing);
    playing = 0;
    const button = byId("play");
    if (button) { button.setAttribute("aria-pressed", "false"); button.textContent = "Play"; }
  }
  function play() {
    if (playing) { stopPlaying(); return; }
    const slider = byId("moment");
    if (slider.value === slider.max) slider.value = "0";
    byId("play").setAttribute("aria-pressed", "true");
    byId("play").textContent = "Stop";
    playing = setInterval(() => {
      const one = byId("moment");
      one.value = String(Number(one.value) + 1);
      showMoment();
      if (one.value === one.max) { stopPlaying(); say(byId("moment-text").textContent); }
    }, 120);
  }
  async function otherWater() {
    stopPlaying();
    const form = byId("pond-form");
    const answer = await ask(form.action + "?run=" + encodeURIComponent(byId("run").value));
    if (answer.gone) { location.reload(); return; }
    put(answer);
    say(byId("moment-text").textContent);
  }
  document.addEventListener("input", (event) => {
    if (event.target.id === "moment") { stopPlaying(); showMoment(); }
  });
  /* what is said below a field while one is in it can be sent away */
  document.addEventListener("keydown", (event) => {
    const box = event.key === "Escape" && event.target.closest && event.target.closest(".field");
    if (box) box.classList.add("told");
  });
  document.addEventListener("focusout", (event) => {
    const box = event.target.closest && event.target.closest(".field.told");
    if (box) box.classList.remove("told");
  });
  document.addEventListener("click", (event) => {
    if (event.target.id === "play") play();
  });

  /* nothing typed is left behind */
  window.addEventListener("beforeunload", (event) => {
    leftAt = Date.now();
    const form = document.querySelector("form[data-live]");
    if (form && changed(form).length) { save(form); event.preventDefault(); }
  });

  /* the list of steps is folded where it would fill the screen */
  const narrow = window.matchMedia("(max-width: 46.99rem)");
  const fold = () => { if (byId("all-steps")) byId("all-steps").open = !narrow.matches; };
  narrow.addEventListener("change", fold);

  window.addEventListener("DOMContentLoaded", () => {
    fold();
    const slider = byId("moment"); /* moved before this ran, or put back by the browser */
    if (slider && slider.value !== slider.defaultValue) showMoment();
    const aside = byId("aside");
    if (aside && aside.dataset.follow) follow(aside.dataset.follow, 0, true).catch(brokeOff("aside"));
    if (byId("progress")) follow(location.pathname.replace(/[^/]*$/, "search"), 0, true).catch(brokeOff("search"));
    const said = sessionStorage.getItem("said");
    if (said) { sessionStorage.removeItem("said"); say(said); }
    for (const field of document.querySelectorAll("form[data-live] [aria-invalid=true]")) {
      for (let one = field.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
    }
  });
})();
