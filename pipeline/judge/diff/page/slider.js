"use strict";
// The slider is the only thing that needs a script: a range that keys move, and the picture that follows it.
document.documentElement.classList.add("live");
for (const viewer of document.querySelectorAll(".viewer")) {
  const range = viewer.querySelector("input[type=range]");
  const panes = viewer.querySelector(".panes");
  const slide = viewer.querySelector(".slide");
  const show = () => {
    viewer.style.setProperty("--cut", `${range.value}%`);
    range.setAttribute("aria-valuetext", `${range.value} % before, ${100 - range.value} % now`);
  };
  const drag = (event) => {
    if (!slide.checked || (event.type === "pointermove" && !event.buttons)) return;
    const box = panes.getBoundingClientRect();
    range.value = Math.round((100 * (event.clientX - box.left)) / box.width);
    show();
  };
  range.addEventListener("input", show);
  panes.addEventListener("pointerdown", drag);
  panes.addEventListener("pointermove", drag);
  slide.addEventListener("change", () => range.focus());
  show();
}
