"""What is measured on a screen, as questions that its page answers with a list of faults."""

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
    const isOut = text.right > box.right + 2 || text.left < box.left - 2;
    const isOver = one.matches('.press, nav a') && text.height > box.height + 2;
    if (isOut || isOver) found.push(`runs out: ${name(one)}`);
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
