// A part of the page that the server writes: its markup is morphed in, so that the field a person
// is in keeps its text, its place and the focus; what a person does is told to the server.

const KEPT = new Set(["open", "data-dirty", "data-seen", "data-sent", "data-touched", "title"]);

function keyOf(node) {
  return node.nodeType === 1 ? node.id || node.getAttribute("data-key") || "" : "";
}

// Two nodes are the same thing when their key is the same; without a key, when their class is.
function sameKind(a, b) {
  if (a.nodeType !== b.nodeType || a.nodeName !== b.nodeName || keyOf(a) !== keyOf(b)) return false;
  return Boolean(keyOf(a)) || a.getAttribute?.("class") === b.getAttribute?.("class");
}

function morphAttributes(from, to) {
  for (const { name } of [...from.attributes]) {
    if (!to.hasAttribute(name) && !KEPT.has(name)) from.removeAttribute(name);
  }
  for (const { name, value } of [...to.attributes]) {
    if (KEPT.has(name) && name === "open" && from.hasAttribute("data-touched")) continue;
    if (from.getAttribute(name) !== value) from.setAttribute(name, value);
  }
}

function morphField(from, to) {
  if (from.hasAttribute("data-dirty")) return; // what a person is typing is theirs
  if (from.nodeName === "INPUT" && (from.type === "checkbox" || from.type === "radio")) {
    from.checked = to.hasAttribute("checked");
  } else if (from.nodeName === "INPUT" && from.type !== "file") {
    const value = to.getAttribute("value") ?? "";
    if (from.value !== value) from.value = value;
  } else if (from.nodeName === "TEXTAREA") {
    if (from.value !== to.textContent) from.value = to.textContent;
  } else if (from.nodeName === "SELECT") {
    const chosen = [...to.options].find((each) => each.hasAttribute("selected"));
    if (chosen && from.value !== chosen.value) from.value = chosen.value;
  }
}

function morph(from, to) {
  if (from.nodeType === 3 || from.nodeType === 8) {
    if (from.data !== to.data) from.data = to.data;
    return;
  }
  if (from.isEqualNode(to) && !/^(INPUT|TEXTAREA|SELECT)$/.test(from.nodeName)) {
    for (const field of from.querySelectorAll("input,textarea,select")) {
      if (!field.hasAttribute("data-dirty")) resetField(field);
    }
    return;
  }
  morphAttributes(from, to);
  if (from.nodeName === "TEXTAREA") return morphField(from, to);
  morphChildren(from, to);
  if (/^(INPUT|SELECT)$/.test(from.nodeName)) morphField(from, to);
}

function resetField(field) {
  if (field.type === "checkbox" || field.type === "radio") field.checked = field.defaultChecked;
  else if (field.nodeName === "SELECT") {
    const chosen = [...field.options].find((each) => each.defaultSelected);
    if (chosen) field.value = chosen.value;
  } else if (field.type !== "file" && field.value !== field.defaultValue) {
    field.value = field.defaultValue;
  }
}

function morphChildren(from, to) {
  const keyed = new Map();
  for (const child of from.childNodes) if (keyOf(child)) keyed.set(keyOf(child), child);
  let here = from.firstChild;
  for (const wanted of [...to.childNodes]) {
    const key = keyOf(wanted);
    let found = key ? keyed.get(key) : null;
    if (!found && here && sameKind(here, wanted)) found = here;
    if (found && sameKind(found, wanted)) {
      if (found !== here) from.insertBefore(found, here);
      else here = here.nextSibling;
      morph(found, wanted);
    } else {
      from.insertBefore(wanted, here);
    }
  }
  while (here) {
    const next = here.nextSibling;
    here.remove();
    here = next;
  }
}

// What is typed and not yet saved is kept by the browser for this tab, until the server says that
// it heard: neither a killed server nor a page loaded again takes more than the keystroke under way.
function draftName(field) {
  const job = location.pathname.split("/")[2];
  const typed = field.nodeName === "INPUT" && field.type === "text";
  return job && typed && field.dataset.path ? `stowright-draft ${job} ${field.dataset.path}` : "";
}

function keptDraft(name) {
  try {
    return (name && JSON.parse(sessionStorage.getItem(name))) || null;
  } catch {
    return null; // a browser that keeps nothing still saves on leaving the field
  }
}

function keepDraft(field) {
  const name = draftName(field);
  if (!name) return;
  try {
    sessionStorage.setItem(name, JSON.stringify([field.value, Number(field.dataset.seen)]));
  } catch {
    // the same
  }
}

function forgetDraft(name) {
  if (keptDraft(name)) sessionStorage.removeItem(name);
}

// From now on the field shows what the server says.
function release(field) {
  for (const name of ["dirty", "seen", "sent"]) delete field.dataset[name];
  field.classList.remove("is-draft");
  field.removeAttribute("title");
}

function bringDrafts(root) {
  for (const field of root.querySelectorAll("input[data-path][data-act]")) {
    const kept = field.dataset.dirty ? null : keptDraft(draftName(field));
    if (!kept) continue;
    const [value, seen] = kept;
    if (value === field.value) {
      forgetDraft(draftName(field));
      continue;
    }
    field.value = value;
    field.dataset.dirty = "1";
    field.dataset.seen = seen;
    field.classList.add("is-draft");
    field.title = "typed and not yet saved: press Enter to save, Escape to let go";
  }
}

function valueOf(field) {
  return field.type === "checkbox" ? field.checked : field.value;
}

// A dragged size as its job tells it: whole millimetres, or sixteenths of an inch.
function sizeTold(mm, unit) {
  if (unit !== "in") return `${Math.round(mm)} mm`;
  const parts = Math.round((mm / 25.4) * 16);
  let [top, bottom] = [parts % 16, 16];
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const whole = Math.floor(parts / 16);
  return `${[whole || !top ? whole : "", top ? `${top}/${bottom}` : ""].join(" ").trim()} in`;
}

function versionOf(root) {
  return Number(root.querySelector("[data-version]")?.getAttribute("data-version") ?? 0);
}

export default {
  template: `<div class="pane"></div>`,
  props: { html: String, heard: Number },
  created() {
    this.turn = 0; // how many acts were told, and those of fields that wait for an answer
    this.waiting = [];
  },
  mounted() {
    this.write(this.html);
    for (const kind of ["click", "input", "change", "focusout", "submit", "keydown", "toggle"]) {
      this.$el.addEventListener(kind, (event) => this[`on_${kind}`](event), kind === "toggle");
    }
    this.$el.addEventListener("pointerdown", (event) => this.on_drag(event));
  },
  watch: {
    html(value) {
      this.write(value);
    },
    heard() {
      this.letGo();
    },
  },
  methods: {
    write(html) {
      this.letGo();
      const fresh = document.createElement("div");
      fresh.innerHTML = html;
      morphChildren(this.$el, fresh);
      bringDrafts(this.$el);
      window.dispatchEvent(new CustomEvent("pane-written", { detail: this.$el }));
    },
    tell(target, more = {}) {
      const data = { ...target.dataset };
      const seen = Number(target.dataset.seen ?? versionOf(this.$el));
      this.turn += 1;
      this.$emit("act", { act: target.dataset.act, data, seen, turn: this.turn, ...more });
    },
    // What the server heard is theirs again, unless more was typed meanwhile.
    letGo() {
      this.waiting = this.waiting.filter(({ turn, field, value, name }) => {
        if (turn > this.heard) return true;
        if (keptDraft(name)?.[0] === value) forgetDraft(name);
        if (field.dataset.sent !== `${value}`) return false;
        if (valueOf(field) === value) release(field);
        else delete field.dataset.sent;
        return false;
      });
    },
    on_click(event) {
      const link = event.target.closest("a[data-go]");
      if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0) {
        event.preventDefault();
        const going = document.activeElement;
        if (going?.dataset?.dirty) going.blur();
        history.pushState({}, "", link.getAttribute("href"));
        this.$emit("act", { act: "go", data: { ...link.dataset }, seen: versionOf(this.$el) });
        window.scrollTo(0, 0);
        return;
      }
      const target = event.target.closest("button[data-act], [role=button][data-act]");
      if (!target || target.disabled || target.getAttribute("type") === "submit") return;
      if (target.dataset.confirm && !window.confirm(target.dataset.confirm)) return;
      if (target.dataset.local) return window.stowright?.[target.dataset.local]?.(target);
      this.tell(target);
    },
    on_input(event) {
      const field = event.target;
      if (field.dataset.local === "upload") return;
      if (!field.dataset.dirty) field.dataset.seen = versionOf(this.$el);
      field.dataset.dirty = "1";
      keepDraft(field);
    },
    on_focusout(event) {
      if (event.target.dataset?.dirty && event.target.dataset.act) this.on_change(event);
    },
    on_change(event) {
      const field = event.target;
      if (field.type === "file") return this.upload(field);
      const value = valueOf(field);
      if (!field.dataset.act || field.dataset.sent === `${value}`) return; // told already
      field.dataset.seen ??= versionOf(this.$el);
      this.tell(field, { value });
      field.dataset.dirty = "1"; // it stays as it is until it was heard
      field.dataset.sent = value;
      this.waiting.push({ turn: this.turn, field, value, name: draftName(field) });
    },
    // What was typed over something is a change of what was seen there as the typing began.
    seenIn(form) {
      const over = [...form.elements].filter((field) => field.dataset.dirty && field.defaultValue);
      return Math.min(versionOf(this.$el), ...over.map((field) => Number(field.dataset.seen)));
    },
    on_submit(event) {
      const form = event.target;
      event.preventDefault();
      if (!form.dataset.act) return;
      const values = Object.fromEntries(new FormData(form, event.submitter ?? undefined));
      this.tell(form, { values, seen: this.seenIn(form) });
      for (const field of form.elements) {
        delete field.dataset.dirty;
        delete field.dataset.seen;
      }
      if (form.dataset.clear) form.reset();
    },
    on_keydown(event) {
      const field = event.target;
      if (event.key === "Enter" && field.dataset?.dirty && field.dataset.act) {
        this.on_change(event);
      }
      if (event.key === "Escape" && field.dataset?.dirty) {
        forgetDraft(draftName(field));
        release(field);
        resetField(field);
      }
    },
    on_toggle(event) {
      const target = event.target;
      if (target.nodeName !== "DETAILS") return;
      target.setAttribute("data-touched", "1");
      if (target.open && target.dataset.act) this.tell(target);
    },
    on_drag(event) {
      const handle = event.target.closest("[data-drag]");
      if (!handle) return;
      event.preventDefault();
      const track = handle.closest("[data-track]");
      const box = track.getBoundingClientRect();
      const across = handle.dataset.drag === "x";
      const whole = Number(track.dataset.track);
      const begin = across ? event.clientX : event.clientY;
      const size = Number(handle.dataset.size);
      const perPixel = whole / (across ? box.width : box.height);
      const shown = handle.querySelector("output") ?? handle;
      let wanted = size;
      const seen = versionOf(this.$el);
      const move = (each) => {
        const gone = (across ? each.clientX - begin : begin - each.clientY) * perPixel;
        const step = Number(handle.dataset.step);
        wanted = Math.max(step, Math.round((size + gone) / step) * step);
        handle.style.transform = across
          ? `translateX(${each.clientX - begin}px)`
          : `translateY(${each.clientY - begin}px)`;
        shown.setAttribute("data-shown", sizeTold(wanted, handle.dataset.unit));
      };
      const end = () => {
        window.removeEventListener("pointermove", move);
        window.removeEventListener("pointerup", end);
        window.removeEventListener("pointercancel", end);
        handle.style.transform = "";
        shown.removeAttribute("data-shown");
        if (wanted !== size) {
          this.$emit("act", {
            act: handle.dataset.dragged,
            data: { ...handle.dataset },
            value: `${wanted}`,
            seen,
          });
        }
      };
      window.addEventListener("pointermove", move);
      window.addEventListener("pointerup", end);
      window.addEventListener("pointercancel", end);
    },
    async upload(field) {
      const file = field.files[0];
      if (!file) return;
      const most = Number(field.dataset.most);
      if (file.size > most) {
        this.$emit("act", { act: "too-large", data: { most: field.dataset.most }, seen: 0 });
        field.value = "";
        return;
      }
      const text = await file.text();
      this.tell(field, { value: text, values: { name: file.name } });
      field.value = "";
    },
  },
};
