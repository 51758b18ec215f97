"use strict";
(() => {
  const by = (id) => document.getElementById(id);
  const seek = by("seek"), only = by("only"), order = by("order"), count = by("count"), home = by("cards");
  const cards = [...home.querySelectorAll("article")].map((node) => ({
    node,
    text: [...node.querySelectorAll("textarea")].map((t) => t.value).concat(node.textContent).join(" ").toLowerCase(),
  }));
  const shown = {
    all: () => true,
    found: (data) => Number(data.findings) > 0,
    changed: (data) => data.changed !== "",
    undone: (data) => data.state !== "built",
  };
  // What has no number comes last.
  const most = (key) => (a, b) => (b.dataset[key] === "" ? -Infinity : Number(b.dataset[key])) - (a.dataset[key] === "" ? -Infinity : Number(a.dataset[key])) || 0;
  const named = (a, b) => a.dataset.name.localeCompare(b.dataset.name);
  const orders = { name: named, findings: most("findings"), days: most("days"), bytes: most("bytes") };
  const sift = () => {
    const words = seek.value.toLowerCase().split(/\s+/).filter(Boolean);
    let found = 0;
    for (const { node, text } of cards) {
      node.hidden = !shown[only.value](node.dataset) || !words.every((word) => text.includes(word));
      found += node.hidden ? 0 : 1;
    }
    const sorted = cards.map((card) => card.node).sort((a, b) => orders[order.value](a, b) || named(a, b));
    home.append(...sorted);
    count.textContent = found === cards.length ? "" : `${found} of ${cards.length}`;
  };
  for (const control of [seek, only, order]) control.addEventListener("input", sift);
  by("sift").addEventListener("submit", (event) => event.preventDefault());
  for (const button of home.querySelectorAll("details button")) {
    const field = button.previousElementSibling.querySelector("textarea");
    button.hidden = false;
    button.addEventListener("click", async () => {
      field.focus();
      field.select();
      const said = button.textContent;
      try {
        await navigator.clipboard.writeText(field.value);
        button.textContent = "Copied";
      } catch {
        button.textContent = "Marked: copy it now";
      }
      setTimeout(() => { button.textContent = said; }, 2000);
    });
  }
  sift();
})();
