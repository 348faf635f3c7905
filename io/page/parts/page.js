"use strict";
// Ticks are kept by the browser under the key of this plan. Where it keeps nothing, as in a private
// window, they last as long as the page.
(() => {
  const all = (what, within = document) => [...within.querySelectorAll(what)];
  const key = "rackwright " + document.documentElement.dataset.plan;
  let ticked = new Set();
  try { ticked = new Set(JSON.parse(localStorage.getItem(key) || "[]")); } catch { /* none */ }

  const count = (pass) => {
    const out = pass.querySelector(".done");
    const done = all("input:checked", pass).length;
    if (out) out.textContent = `${done} of ${out.dataset.all} done.`;
  };
  for (const box of all(".tick input")) box.checked = ticked.has(box.id);
  for (const pass of all(".pass")) count(pass);
  document.addEventListener("change", (event) => {
    const box = event.target;
    if (!box.matches(".tick input")) return;
    if (box.checked) ticked.add(box.id); else ticked.delete(box.id);
    try { localStorage.setItem(key, JSON.stringify([...ticked])); } catch { /* not kept */ }
    const pass = box.closest(".pass");
    if (pass) count(pass);
  });

  // A drawing waits as text until it comes into view, or until the page is printed. Its texts take
  // the room that was measured for them.
  const draw = (figure) => {
    const waiting = figure.querySelector("noscript");
    if (waiting) waiting.outerHTML = waiting.textContent;
    for (const text of all("text", figure)) text.setAttribute("lengthAdjust", "spacingAndGlyphs");
  };
  const seen = new IntersectionObserver((entries) => {
    for (const entry of entries) {
      if (entry.isIntersecting) { draw(entry.target); seen.unobserve(entry.target); }
    }
  }, { rootMargin: "800px" });
  for (const figure of all(".draw")) seen.observe(figure);
  addEventListener("beforeprint", () => all("#work .draw").forEach(draw));

  // A board of the list that is opened shows the drawing that the order of work has, too. What has
  // no room in it stands below it anyhow.
  document.addEventListener("toggle", (event) => {
    const copy = event.target.querySelector("[data-of]");
    const figure = copy && document.getElementById(copy.dataset.of);
    if (!figure || !event.target.open) return;
    draw(figure);
    copy.replaceChildren(figure.firstElementChild.cloneNode(true));
    copy.hidden = false;
  }, true);

  // The filters. Which board has what stands in its data.
  const form = document.getElementById("filter");
  if (!form) return;
  const [whose, material, bin, words] =
    ["f-c", "f-m", "f-b", "f-t"].map((id) => document.getElementById(id));
  const found = document.getElementById("found");
  const boards = all("#list > li").map((row) => ({ row, whose: row.dataset.c.split(" "),
    material: row.dataset.m, bin: row.dataset.b, text: "" }));
  const filter = () => {
    const wanted = words.value.trim().toLowerCase();
    let shown = 0;
    for (const b of boards) {
      if (wanted && !b.text) b.text = b.row.textContent.toLowerCase();
      const fits = (!whose.value || b.whose.includes(whose.value)) &&
        (!material.value || b.material === material.value) &&
        (!bin.value || b.bin === bin.value) && (!wanted || b.text.includes(wanted));
      b.row.hidden = !fits;
      if (fits) shown++;
    }
    found.textContent = `${shown} of ${boards.length} boards`;
  };
  form.hidden = false;
  form.addEventListener("input", filter);
  form.addEventListener("reset", () => setTimeout(filter));
  form.addEventListener("submit", (event) => event.preventDefault());
  filter();

  // A link to a board that is filtered out shows it again, and opens it.
  const follow = () => {
    const row = document.getElementById(location.hash.slice(1));
    if (!row || !row.matches("#list > li")) return;
    if (row.hidden) { form.reset(); filter(); }
    row.querySelector("details").open = true;
    row.scrollIntoView();
  };
  addEventListener("hashchange", follow);
  follow();
})();
