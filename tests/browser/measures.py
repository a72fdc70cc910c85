"""What is measured on a screen, as questions that its page answers with a list of faults."""

# What is tapped with a wet thumb in the field: at least 56 px tall, in letters of at least 18 px.
FIELD_ACTIONS_TOO_SMALL = """() => {
  const field = '.press, .box, .text-input, .stepper button, .stepper-value, .notice button, '
    + '.stop-head a';
  const found = [];
  for (const one of document.querySelectorAll(field)) {
    const { width, height } = one.getBoundingClientRect();
    const isHidden = one.closest('details:not([open]) > :not(summary), .unseen');
    if (!width || isHidden) continue;
    const letters = parseFloat(getComputedStyle(one).fontSize);
    const name = `${one.className} "${one.textContent.trim().slice(0, 40)}"`;
    if (height < 56 || letters < 18) found.push(`${height} px, letters ${letters} px: ${name}`);
  }
  return found;
}"""

# In the look for full sun no words on the page are smaller. Drawings scale with what they show.
LETTERS_TOO_SMALL = """() => {
  const found = new Set();
  const words = document.createTreeWalker(document.getElementById('page'), NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const one = words.currentNode.parentElement;
    if (!words.currentNode.data.trim() || !one.getClientRects().length) continue;
    if (one.closest('svg, .unseen, .skip')) continue;
    const letters = parseFloat(getComputedStyle(one).fontSize);
    const name = `${one.tagName} ${one.className} "${words.currentNode.data.trim().slice(0, 40)}"`;
    if (letters < 18) found.add(`${letters} px: ${name}`);
  }
  return [...found];
}"""

# What leaves the window sideways, or runs out of what holds it. Tables and plans may be wider than
# the window: they scroll in a box of their own.
CUT_OFF = """() => {
  const found = [];
  const page = document.scrollingElement;
  if (page.scrollWidth > innerWidth) found.push(`page is ${page.scrollWidth} px wide`);
  const name = (one) => `${one.tagName} ${one.className} "${one.textContent.trim().slice(0, 40)}"`;
  for (const one of document.querySelectorAll('#page *')) {
    const box = one.getBoundingClientRect();
    if (!box.width || one.closest('.table-scroll, .plan-ground, svg, .unseen, .skip')) continue;
    if (box.right > innerWidth + 1 || box.left < -1) found.push(`outside: ${name(one)}`);
    if (!one.matches('button, a, p, h1, h2, h3, dt, dd, legend, label, summary')) continue;
    const words = document.createRange();
    words.selectNodeContents(one);
    const text = words.getBoundingClientRect();
    if (!text.width) continue;
    const isOut = text.right > box.right + 2 || text.left < box.left - 2;
    const isOver = one.matches('.press, nav a') && text.height > box.height + 2;
    if (isOut || isOver) found.push(`runs out: ${name(one)}`);
  }
  return found;
}"""

# Words that go on in a second line without having ended in the first.
BROKEN_WORDS = """() => {
  const found = [];
  const texts = document.createTreeWalker(document.querySelector('#page'), NodeFilter.SHOW_TEXT);
  for (let text = texts.nextNode(); text; text = texts.nextNode()) {
    if (text.parentElement.closest('svg, .unseen, .skip, textarea, .log-raw')) continue;
    for (const { 0: word, index } of text.data.matchAll(/[\\p{L}\\p{N}]{2,}/gu)) {
      const letters = document.createRange();
      letters.setStart(text, index);
      letters.setEnd(text, index + word.length);
      if (new Set([...letters.getClientRects()].map(({ top }) => Math.round(top))).size > 1)
        found.push(`${text.parentElement.tagName}: ${word}`);
    }
  }
  return found;
}"""

# Whatever writes an entry or fills a form is at least 48 px tall; a box is tapped by its label. A
# link by which one only goes elsewhere may be lower, down to the 24 px of WCAG 2.2 (2.5.8), which
# lets a link inside of a sentence be as low as its line. The plants on the plan are as large as the
# bed allows: whole rows and, in the form, each plant have buttons of full size.
TOO_LOW = """() => {
  const field = 'button, input, select, textarea, summary, a.press, nav a, label.box';
  const found = [];
  for (const one of document.querySelectorAll(`${field}, #page a[href]`)) {
    const target = one.closest('label.box, .stepper-value') ?? one;
    const { width, height } = target.getBoundingClientRect();
    const isHidden = one.closest('details:not([open]) > :not(summary), .unseen, .skip');
    if (!width || isHidden) continue;
    const isInLine = getComputedStyle(one).display === 'inline'
      && one.parentElement.textContent.trim() !== one.textContent.trim();
    const least = one.matches(field) ? 48 : isInLine ? 0 : 24;
    if (height < least) found.push(
      `${height} px: ${one.tagName} ${one.className} "${one.textContent.trim().slice(0, 40)}"`);
  }
  return found;
}"""
