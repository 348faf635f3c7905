// What is looked at in a page that is open, for browser_test.go. Each function gives a list of what
// is wrong, in words.
window.look = (() => {
  const all = (what) => [...document.querySelectorAll(what)];
  const name = (e) => `${e.tagName.toLowerCase()}${e.id ? "#" + e.id : ""}` +
    `${e.className.baseVal ?? e.className ? "." + (e.className.baseVal ?? e.className) : ""}` +
    ` "${(e.textContent || "").trim().slice(0, 40)}"`;
  const shown = (e) => e.checkVisibility() && e.getClientRects().length > 0;

  // everything: all drawings put in, all boards opened, nothing left out of the layout
  const everything = () => {
    const style = document.createElement("style");
    style.textContent = "* { content-visibility: visible !important; }";
    document.head.append(style);
    for (const d of all("details")) d.open = true;
    dispatchEvent(new Event("beforeprint"));
  };

  // texts: each text node that is seen, with the boxes of its lines
  const texts = () => {
    const out = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const node = walk.currentNode, e = node.parentElement;
      if (!node.data.trim() || !shown(e) || e.closest("svg, noscript, option, script, style")) {
        continue;
      }
      const range = document.createRange();
      range.selectNodeContents(node);
      out.push({ e, boxes: [...range.getClientRects()] });
    }
    return out;
  };

  // hidden from the eye on purpose, to be read aloud
  const aloud = (e) => getComputedStyle(e.closest("thead") || e).clipPath !== "none";

  // overflow: what reaches beyond its box or beyond the page
  const overflow = () => {
    const out = [], wide = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > wide) {
      out.push(`the page is ${document.documentElement.scrollWidth} wide, not ${wide}`);
    }
    for (const e of all("body *")) {
      if (e.closest("svg") || !shown(e) || getComputedStyle(e).display === "inline" || aloud(e) ||
        e.matches(".draw, .skip")) continue;
      if (e.scrollWidth > e.clientWidth + 1 && !e.closest(".draw") &&
        !e.matches("input, select")) {
        out.push(`${name(e)} needs ${e.scrollWidth} and has ${e.clientWidth}`);
      }
    }
    for (const { e, boxes } of texts()) {
      let box = e;
      while (getComputedStyle(box).display === "inline") box = box.parentElement;
      const room = box.getBoundingClientRect();
      if (aloud(e) || e.closest(".draw, .skip")) continue;
      for (const b of boxes) {
        if (b.left < room.left - 1 || b.right > room.right + 1) {
          out.push(`${name(e)} from ${b.left} to ${b.right} in ${room.left} to ${room.right}`);
        }
      }
    }
    return out;
  };

  // pictures: texts that leave their picture, and texts of the chart that touch each other
  const pictures = () => {
    const out = [];
    for (const svg of all("svg")) {
      if (!shown(svg)) continue;
      const room = svg.getBoundingClientRect();
      const boxes = [...svg.querySelectorAll("text")].map((e) => [e, e.getBoundingClientRect()]);
      for (const [e, b] of boxes) {
        if (b.left < room.left - 1 || b.right > room.right + 1 || b.top < room.top - 1 ||
          b.bottom > room.bottom + 1) out.push(`${name(e)} leaves ${svg.ariaLabel}`);
      }
      if (!svg.matches(".chart")) continue;
      boxes.forEach(([e, b], i) => boxes.slice(i + 1).forEach(([f, c]) => {
        if (b.left < c.right && c.left < b.right && b.top < c.bottom && c.top < b.bottom) {
          out.push(`${name(e)} touches ${name(f)}`);
        }
      }));
    }
    return out;
  };

  // contrast by the formula of WCAG 2.2, relative luminance and contrast ratio
  const rgb = (text) => {
    const m = text.match(/[\d.]+/g).map(Number);
    return { c: m.slice(0, 3), a: m[3] ?? 1 };
  };
  const luminance = (c) => {
    const [r, g, b] = c.map((x) => x / 255)
      .map((x) => x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (a, b) => {
    const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p);
    return (x + 0.05) / (y + 0.05);
  };
  const behind = (e) => {
    for (; e; e = e.parentElement) {
      const c = rgb(getComputedStyle(e).backgroundColor);
      if (c.a === 1) return c.c;
    }
    return [255, 255, 255];
  };
  const contrast = () => {
    const out = new Set();
    const judge = (e, ink, least) => {
      const r = ratio(rgb(ink).c, behind(e));
      if (r < least) out.add(`${name(e)}: ${r.toFixed(2)} is less than ${least}`);
    };
    for (const { e } of texts()) judge(e, getComputedStyle(e).color, 4.5);
    for (const e of all("svg text")) if (shown(e)) judge(e, getComputedStyle(e).fill, 4.5);
    for (const e of all("svg path, svg rect")) {
      const s = getComputedStyle(e);
      if (shown(e) && !e.matches(".w, .fw, .halo, .sheet, .fg")) {
        judge(e, s.stroke === "none" ? s.fill : s.stroke, 3);
      }
    }
    for (const e of all("select, input[type=search], button")) {
      if (shown(e)) judge(e.parentElement, getComputedStyle(e).borderTopColor, 3);
    }
    return [...out];
  };

  // targets: what is pressed, and not part of a sentence, is 24 px at least each way (WCAG 2.5.8)
  const targets = () => all("nav a, .ticks > li > a, .plain a, button, select, input, summary")
    .filter(shown).filter((e) => {
      const b = e.getBoundingClientRect();
      return b.height < 24 || b.width < 24;
    }).map((e) => `${name(e)} is too small`);

  return { everything, overflow, pictures, contrast, targets };
})();
