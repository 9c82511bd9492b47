try {
  const kept = "ticks " + location.pathname, boxes = document.querySelectorAll("input[type=checkbox]");
  const on = new Set(JSON.parse(localStorage.getItem(kept) || "[]"));
  for (const box of boxes) {
    box.checked = box.checked || on.has(box.id);
    box.addEventListener("change", () => {
      localStorage.setItem(kept, JSON.stringify([...boxes].filter((b) => b.checked).map((b) => b.id)));
    });
  }
} catch { /* where nothing may be kept, ticks last as long as the page */ }
addEventListener("beforeprint", () => document.querySelectorAll("details").forEach((d) => { d.open = true; }));
