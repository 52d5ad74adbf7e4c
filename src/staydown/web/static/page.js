// Theme before the first paint, and keys: kept in this browser, asks nobody.
(() => {
  const root = document.documentElement, kept = () => { try { return localStorage.getItem("staydown-theme"); } catch { return null; } };
  const set = (theme) => { root.dataset.theme = theme; };
  set(kept() || (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light"));
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", (e) => { if (!kept()) set(e.matches ? "dark" : "light"); });
  document.addEventListener("click", (e) => {
    if (e.target.closest && e.target.closest("[data-theme=switch]")) {
      const theme = root.dataset.theme === "dark" ? "light" : "dark";
      try { localStorage.setItem("staydown-theme", theme); } catch { /* a browser that keeps nothing still switches */ }
      set(theme);
    }
    if (e.target.closest && e.target.closest("[data-print]")) window.print();
  });
  // a file is dropped on a form that takes one: it is sent as if it had been chosen; beside it a drop does nothing
  const carries = (e) => e.dataTransfer && [...e.dataTransfer.types].includes("Files") && document.querySelector("[data-drop]");
  const zone = (e) => e.target.closest && e.target.closest("[data-drop]");
  const mark = (one) => { for (const form of document.querySelectorAll("[data-drop]")) form.classList.toggle("over", form === one); };
  document.addEventListener("dragover", (e) => { if (!carries(e)) return; e.preventDefault(); e.dataTransfer.dropEffect = zone(e) ? "copy" : "none"; mark(zone(e)); });
  document.addEventListener("dragleave", (e) => { if (!e.relatedTarget) mark(null); });
  document.addEventListener("drop", (e) => {
    if (!carries(e)) return;
    e.preventDefault(); mark(null);
    const form = zone(e), input = form && form.querySelector("input[type=file]");
    if (!input || !e.dataTransfer.files.length) return;
    const one = new DataTransfer();
    one.items.add(e.dataTransfer.files[0]);
    input.files = one.files;
    limit(input);
    form.requestSubmit();
  });
  const limit = (input) => {
    const most = Number(input.dataset.most), file = input.files[0];
    input.setCustomValidity(most && file && file.size > most ? `This file is larger than ${Math.floor(most / 1000)} kB. Hand it in in parts.` : "");
  };
  document.addEventListener("change", (e) => { if (e.target.matches && e.target.matches("input[type=file][data-most]")) limit(e.target); });
  document.addEventListener("keydown", (e) => {
    const typing = /^(?:INPUT|TEXTAREA|SELECT)$/.test(document.activeElement ? document.activeElement.tagName : "");
    if ((e.ctrlKey || e.metaKey) && !e.altKey && e.key.toLowerCase() === "z" && !typing) {
      const wanted = e.shiftKey ? "Redo" : "Undo";
      for (const one of document.querySelectorAll("header.top button")) if (one.textContent === wanted && !one.disabled) { e.preventDefault(); one.click(); }
    }
    if (e.key === "Escape") { const close = document.querySelector(".why-panel button"); if (close) close.click(); }
  });
})();
