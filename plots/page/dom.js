// dom.js - elements made and filled; texts go in as texts, never as markup.

const SVG = 'http://www.w3.org/2000/svg';

export const byId = (id) => document.getElementById(id);

function dress(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? '' : value);
  }
  node.append(...children.filter((child) => child !== null && child !== undefined));
  return node;
}

// an element: el('button', { type: 'button', onclick: play }, 'Play')
export function el(name, attributes = {}, ...children) {
  return dress(document.createElement(name), attributes, children);
}

// the same inside a drawing
export function draw(name, attributes = {}, ...children) {
  return dress(document.createElementNS(SVG, name), attributes, children);
}

export function say(id, text) {
  const node = byId(id);
  if (node.textContent !== text) node.textContent = text;
}

export const show = (node, wanted) => {
  node.hidden = !wanted;
};

// offers a text as a file to save
export function saveFile(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = el('a', { href: address, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}
