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
  document.addEventListener("keydown", (e) => {
    const typing = /^(?:INPUT|TEXTAREA|SELECT)$/.test(document.activeElement ? document.activeElement.tagName : "");
    if ((e.ctrlKey || e.metaKey) && !e.altKey && e.key.toLowerCase() === "z" && !typing) {
      const wanted = e.shiftKey ? "Redo" : "Undo";
      for (const one of document.querySelectorAll("header.top button")) if (one.textContent === wanted && !one.disabled) { e.preventDefault(); one.click(); }
    }
    if (e.key === "Escape") { const close = document.querySelector(".why-panel button"); if (close) close.click(); }
  });
})();
