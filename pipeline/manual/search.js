"use strict";
(() => {
  const seek = document.getElementById("seek"), count = document.getElementById("count");
  const articles = [...document.querySelectorAll("article")].map((node) => ({ node, text: node.textContent.toLowerCase() }));
  const sections = [...document.querySelectorAll("main section")];
  const names = (node) => (node.closest(".table")?.querySelector("h3").textContent ?? "").toLowerCase();
  for (const one of articles) one.text = names(one.node) + "." + one.text;
  const show = () => {
    const words = seek.value.toLowerCase().split(/\s+/).filter(Boolean);
    let found = 0;
    for (const { node, text } of articles) {
      node.hidden = !words.every((word) => text.includes(word));
      found += node.hidden ? 0 : 1;
    }
    for (const section of sections) section.hidden = words.length > 0 && !section.querySelector("article:not([hidden])");
    count.textContent = words.length ? `${found} found` : "";
  };
  seek.addEventListener("input", show);
  addEventListener("keydown", (event) => {
    if (event.key === "/" && document.activeElement !== seek) { event.preventDefault(); seek.focus(); }
  });
})();
