// In the page: what reaches out of it, what is cut, what lies over what, what makes the page wider than its window.
export const layout = `
  const found = [];
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) found.push('the page is ' + root.scrollWidth + ' wide in ' + root.clientWidth);
  for (const svg of document.querySelectorAll('svg.picture')) {
    const view = svg.viewBox.baseVal;
    const texts = [...svg.querySelectorAll('text')].map((text) => ({ says: text.textContent, box: text.getBBox() }));
    for (const { says, box } of texts) {
      if (box.x < 0 || box.y < 0 || box.x + box.width > view.width || box.y + box.height > view.height) found.push(says + ' is cut');
    }
    texts.forEach((one, n) => texts.slice(n + 1).forEach((other) => {
      const apart = one.box.x + one.box.width <= other.box.x || other.box.x + other.box.width <= one.box.x
        || one.box.y + one.box.height <= other.box.y + 1 || other.box.y + other.box.height <= one.box.y + 1;
      if (!apart) found.push(one.says + ' lies over ' + other.says);
    }));
  }
  for (const cell of document.querySelectorAll('td, th, dd, dt, p, h1, h2, li')) {
    if (cell.scrollWidth > cell.clientWidth + 1 && getComputedStyle(cell).display !== 'inline') found.push(cell.textContent.slice(0, 40) + ' is wider than its place');
  }
  for (const one of document.querySelectorAll('[src], [href], [srcset], [data], [action], [onerror], [onload], link, iframe, object, img')) {
    if (!(one.getAttribute('href') ?? '').startsWith('#')) found.push('reaches out of the page: ' + one.outerHTML.slice(0, 80));
  }
  if (performance.getEntriesByType('resource').length > 0) found.push('the page loaded something');
`;
