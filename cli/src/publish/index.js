"use strict";
// Search over the cards of the index. Without it all of them are there.
(() => {
  const byId = (id) => document.getElementById(id);
  const plain = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
  const cards = [...document.querySelectorAll(".card")].map((card) => ({
    card,
    text: plain(card.textContent),
    materials: JSON.parse(card.dataset.materials),
  }));
  const look = () => {
    const words = plain(byId("words").value).split(/\s+/);
    const material = byId("material").value;
    const width = Number(byId("width").value) || Infinity;
    let count = 0;
    for (const { card, text, materials } of cards) {
      const shown = words.every((word) => text.includes(word))
        && (!material || materials.includes(material))
        && (width === Infinity || Number(card.dataset.width) <= width);
      card.hidden = !shown;
      count += shown ? 1 : 0;
    }
    const plans = cards.length === 1 ? "plan" : "plans";
    byId("count").textContent = count === cards.length ? `${count} ${plans}` : `${count} of ${cards.length} ${plans}`;
  };
  byId("search").hidden = false;
  byId("search").addEventListener("input", look);
  byId("search").addEventListener("submit", (event) => event.preventDefault());
  look();
})();
