// Keeps every reading as it is typed, and takes over the pieces of the page that the desk
// answers with. Without it the same form works with its buttons.
'use strict';
(() => {
  const form = document.querySelector('form[data-typed]');
  if (!form) return;
  document.documentElement.classList.add('scripted');
  const waiting = new Map();
  let busy = false;
  let timer = 0;

  const wrap = (input) => input.closest('.field');

  // One after the other: an answer is never older than the page.
  const send = async () => {
    if (busy) return;
    const [input] = waiting.keys();
    if (!input) return;
    busy = true;
    const text = input.value;
    waiting.delete(input);
    const body = new URLSearchParams({
      board: form.elements.board.value, round: form.elements.round.value,
      by: form.elements.by.value, field: input.name, text, seen: input.dataset.seen,
    });
    try {
      const answer = await fetch(form.dataset.typed, { method: 'POST', body, keepalive: true });
      const kind = answer.status;
      if (kind === 200 || kind === 409) {
        takeOver(await answer.text());
        const remark = wrap(input).querySelector('.said');
        // What another screen typed has now been seen.
        input.dataset.seen = kind === 200 ? text.trim() : remark.dataset.there;
        input.toggleAttribute('aria-invalid', remark.textContent.trim() !== '');
        if (input.hasAttribute('aria-invalid')) input.setAttribute('aria-invalid', 'true');
        wrap(input).classList.toggle('kept', kind === 200 && text !== '');
        wrap(input).classList.remove('waiting');
      } else {
        wrap(input).querySelector('.said').textContent = kind === 401
          ? 'Not kept: open the link that the program printed, then come back.'
          : 'Not kept: see the message of the desk, and type it again.';
      }
    } catch {
      waiting.set(input, true);
      wrap(input).querySelector('.said').textContent =
        'Not kept: the desk cannot be reached. It is tried again.';
      busy = false;
      setTimeout(send, 2000);
      return;
    }
    busy = false;
    send();
  };

  const takeOver = (text) => {
    const pieces = new DOMParser().parseFromString(text, 'text/html').body;
    for (const piece of [...pieces.children]) {
      const old = piece.id && document.getElementById(piece.id);
      if (old) {
        // A field that is there keeps what is being typed in it.
        if (!piece.classList.contains('field')) old.replaceWith(piece);
      } else if (piece.classList.contains('field')) {
        const input = piece.querySelector('.reading');
        const [item, place] = input.name.split('|');
        const same = [...form.querySelectorAll('.reading')]
          .filter((other) => other.name.startsWith(`${item}|${place}|`)).pop();
        if (same) wrap(same).after(piece);
      }
    }
  };

  const soon = (input, delay) => {
    if (input.value.trim() === input.dataset.seen && !waiting.has(input)) return;
    wrap(input).classList.remove('kept');
    wrap(input).classList.add('waiting');
    waiting.set(input, true);
    clearTimeout(timer);
    timer = setTimeout(send, delay);
  };

  const isReading = (element) => element.classList && element.classList.contains('reading');

  form.addEventListener('input', (event) => {
    if (isReading(event.target)) soon(event.target, 250);
  });
  form.addEventListener('change', (event) => {
    if (isReading(event.target)) soon(event.target, 0);
  });
  form.addEventListener('keydown', (event) => {
    if (event.key !== 'Enter' || !isReading(event.target)) return;
    event.preventDefault();
    const input = event.target;
    soon(input, 0);
    // An empty field ends its length: the next length follows.
    const all = [...form.querySelectorAll('.reading')];
    const own = all.indexOf(input);
    const step = input.closest('fieldset');
    const next = all.slice(own + 1).find((other) =>
      input.value.trim() !== '' || other.closest('fieldset') !== step
      || other.name.split('|')[1] !== input.name.split('|')[1]);
    if (next) next.focus();
    else document.querySelector('aside .button')?.focus();
  });
  form.addEventListener('focusin', (event) => {
    if (isReading(event.target)) event.target.select();
  });
  // Whoever comes back goes on where the first reading is missing.
  const first = [...form.querySelectorAll('.reading')].find((input) => input.value === '');
  if (first && !location.hash) first.focus();
  addEventListener('pagehide', () => { clearTimeout(timer); send(); });
})();
