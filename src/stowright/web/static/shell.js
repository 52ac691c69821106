// Small doings of the page itself: colours, keys, printing, keeping the screen awake.

(() => {
  const root = document.documentElement;

  function showLook() {
    const chosen = root.dataset.look || "";
    for (const each of document.querySelectorAll("[data-look][data-act=look]")) {
      each.setAttribute("aria-pressed", String(each.dataset.look === chosen));
    }
  }

  function look(button) {
    root.dataset.look = root.dataset.look === button.dataset.look ? "" : button.dataset.look;
    try {
      localStorage.setItem("stowright-look", root.dataset.look);
    } catch {
      // a browser that keeps nothing still shows the colours
    }
    showLook();
    window.dispatchEvent(new CustomEvent("look-changed"));
  }

  let lock = null;
  async function awake(button) {
    const said = document.getElementById("awake-said");
    if (!window.isSecureContext || !navigator.wakeLock) {
      said.textContent =
        "This page is not secure for the browser, so the screen cannot be kept awake: " +
        "set the screen's own time-out longer.";
      return;
    }
    if (lock) {
      await lock.release();
      lock = null;
    } else {
      try {
        lock = await navigator.wakeLock.request("screen");
      } catch (error) {
        said.textContent = `The screen cannot be kept awake: ${error.message}`;
        return;
      }
    }
    button.setAttribute("aria-pressed", String(Boolean(lock)));
    said.textContent = lock ? "The screen stays awake on this page." : "The screen may sleep.";
  }

  function printPages(address) {
    document.getElementById("print-frame")?.remove();
    if (matchMedia("(pointer: coarse)").matches) return location.assign(address);
    const frame = document.createElement("iframe");
    frame.id = "print-frame";
    frame.title = "The book's pages";
    frame.src = address;
    frame.addEventListener("load", () => {
      frame.dataset.ready = "1";
      frame.contentWindow.focus();
      frame.contentWindow.print();
    });
    document.body.append(frame);
  }

  // The book's pages of this stage stand in the page unseen, for the browser's own printing.
  async function bringSheets() {
    const address = document.getElementById("work")?.dataset.sheets ?? "";
    const there = document.getElementById("print-sheets");
    if ((there?.dataset.from ?? "") === address || matchMedia("(pointer: coarse)").matches) return;
    there?.remove();
    if (!address) return;
    const sheets = document.createElement("div");
    sheets.id = "print-sheets";
    sheets.dataset.from = address;
    document.body.append(sheets);
    const response = await fetch(address);
    if (!response.ok) return sheets.remove();
    sheets.innerHTML = await response.text();
    await Promise.all([...sheets.querySelectorAll("img")].map((each) => each.decode().catch(() => {})));
    sheets.dataset.ready = "1";
  }

  function press(act) {
    const button = document.querySelector(`header button[data-act=${act}]`);
    if (button && !button.disabled) button.click();
    return Boolean(button);
  }

  document.addEventListener("keydown", (event) => {
    const control = event.ctrlKey || event.metaKey;
    const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(event.target.nodeName);
    if (control && event.key.toLowerCase() === "p" && press("print")) event.preventDefault();
    if (typing || !control || event.key.toLowerCase() !== "z") return;
    if (press(event.shiftKey ? "redo" : "undo")) event.preventDefault();
  });
  let stage = "";
  function showStage() {
    const here = document.querySelector(".stages [aria-current=page]");
    if (!here || here.textContent === stage) return;
    stage = here.textContent;
    const list = here.closest("ul");
    list.scrollLeft = here.offsetLeft - (list.clientWidth - here.offsetWidth) / 2;
  }

  window.addEventListener("pane-written", () => {
    showLook();
    showStage();
    bringSheets();
  });
  window.addEventListener("popstate", () => location.reload());

  window.stowright = {
    look,
    awake,
    printPages,
    goTo(address) {
      location.assign(address);
    },
  };
})();
