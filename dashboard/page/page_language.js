// Tells the browser which language the page is in, and says the few words that Streamlit brings along in that language.
const ATTRIBUTES = ["aria-label", "placeholder", "title"];
const REMEMBERED = new WeakMap(); // node -> Map of attribute ("" for a text) -> [as Streamlit says it, as we said it]
let words = {};
let beginnings = [];
let endings = [];
let watching = null;

function inTheseWords(text) {
  if (text in words) return words[text];
  const start = beginnings.find((one) => text.startsWith(one)) ?? "";
  const rest = text.slice(start.length);
  const end = endings.find((one) => rest.includes(one)) ?? "";
  return (words[start] ?? "") + (end ? rest.replace(end, words[end]) : rest);
}

function sayOne(node, part, text, put) {
  if (!text) return;
  const kept = REMEMBERED.get(node) ?? new Map();
  const [first, last] = kept.get(part) ?? [text, text];
  const original = text === last ? first : text;
  const said = inTheseWords(original.trim());
  const now = said === original.trim() ? original : said;
  if (now !== original || kept.has(part)) {
    kept.set(part, [original, now]);
    REMEMBERED.set(node, kept);
  }
  if (now !== text) put(now);
}

function say(root) {
  if (root.nodeType === Node.TEXT_NODE) {
    sayOne(root, "", root.data, (said) => (root.data = said));
    return;
  }
  if (root.nodeType !== Node.ELEMENT_NODE || root.closest("[data-testid=stMarkdown], svg, script, style")) return;
  for (const one of ATTRIBUTES) {
    sayOne(root, one, root.getAttribute(one), (said) => root.setAttribute(one, said));
  }
  for (const inner of root.childNodes) say(inner);
}

export default function ({ data }) {
  document.documentElement.lang = data.language;
  words = data.words;
  beginnings = Object.keys(words).filter((one) => one.endsWith(" "));
  endings = Object.keys(words).filter((one) => one.startsWith(" "));
  say(document.body);
  if (watching) return;
  watching = new MutationObserver((changes) => {
    for (const change of changes) {
      if (change.type === "childList") change.addedNodes.forEach(say);
      else if (change.type === "characterData") say(change.target);
      else {
        const node = change.target;
        const put = (said) => node.setAttribute(change.attributeName, said);
        if (!node.closest("svg")) sayOne(node, change.attributeName, node.getAttribute(change.attributeName), put);
      }
    }
  });
  watching.observe(document.body, {
    subtree: true,
    childList: true,
    characterData: true,
    attributes: true,
    attributeFilter: ATTRIBUTES,
  });
}
