"use strict";
// Drawings: a tap shows one up close where it was tapped, another the whole sheet; buttons do the same by steps.
(() => {
  const CLOSE = 4; // CSS pixels for 1 mm of paper: the smallest letters of a sheet are then as large as the page's own
  const FARTHEST = 16; // times the width of the window

  const sizeOf = (frame) => Number(frame.dataset.size ?? 1);

  function resize(frame, size, across = 0.5, down = 0.5) {
    const svg = frame.firstElementChild;
    const to = Math.min(Math.max(size, 1), FARTHEST);
    frame.dataset.size = String(to);
    frame.style.setProperty("--size", String(to));
    frame.scrollLeft = svg.clientWidth * across - frame.clientWidth / 2;
    frame.scrollTop = svg.clientHeight * down - frame.clientHeight / 2;
  }

  function close(frame) {
    const svg = frame.firstElementChild;
    return Math.max((svg.viewBox.baseVal.width * CLOSE * sizeOf(frame)) / svg.clientWidth, 1.5);
  }

  for (const frame of document.querySelectorAll(".drawing")) {
    frame.addEventListener("click", (event) => {
      if (!getSelection().isCollapsed) return; // text was marked, not the drawing tapped
      const box = frame.firstElementChild.getBoundingClientRect();
      const spot = [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
      resize(frame, sizeOf(frame) > 1 ? 1 : close(frame), ...spot);
    });
    const buttons = frame.parentElement.querySelector(".buttons");
    buttons.hidden = false;
    const steps = { whole: () => 1, larger: () => sizeOf(frame) * 1.5, smaller: () => sizeOf(frame) / 1.5 };
    for (const button of buttons.children) {
      button.addEventListener("click", () => {
        const svg = frame.firstElementChild;
        const across = (frame.scrollLeft + frame.clientWidth / 2) / svg.clientWidth;
        const down = (frame.scrollTop + frame.clientHeight / 2) / svg.clientHeight;
        resize(frame, steps[button.dataset.size](), across, down);
      });
    }
  }

  for (const all of document.querySelectorAll("[data-unfold]")) {
    all.parentElement.hidden = false;
    const folded = [...document.querySelectorAll(all.dataset.unfold)];
    all.addEventListener("click", () => {
      const open = all.getAttribute("aria-pressed") !== "true";
      all.setAttribute("aria-pressed", String(open));
      for (const details of folded) details.open = open;
    });
  }
})();
