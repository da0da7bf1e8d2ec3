// Keeps every reading as it is typed, and takes over the pieces of the page that the desk
// answers with. Without it the same form works with its buttons.
'use strict';
(() => {
  // Who measures and with what is chosen once in this browser.
  const person = document.querySelector('form[action="/begin"][method="post"]');
  if (person) {
    const names = ['by', 'instrument', 'resolution', 'max_error', 'calibrated'];
    const known = JSON.parse(localStorage.getItem('measures') ?? '{}');
    if (known.by) for (const name of names) person.elements[name].value = known[name] ?? '';
    person.addEventListener('submit', () => {
      const now = names.map((name) => [name, person.elements[name].value]);
      localStorage.setItem('measures', JSON.stringify(Object.fromEntries(now)));
    });
  }
  document.querySelector('main form[method="post"] input:not([type="hidden"])')?.focus();

  const form = document.querySelector('form[data-typed]');
  if (!form) return;
  document.documentElement.classList.add('scripted');
  const waiting = new Map();
  let busy = false;
  let timer = 0;
  let going = '';

  const wrap = (input) => input.closest('.field');
  // More readings of a length than these are taken only by who wants to.
  const asked = (input) => {
    const [, place, nth] = input.name.split('|');
    return Number(nth) < (place === '' ? 3 : 2);
  };

  const say = (input, words) => {
    wrap(input).querySelector('.said').textContent = words;
  };

  const request = (input) => fetch(form.dataset.typed, {
    method: 'POST',
    keepalive: true,
    body: new URLSearchParams({
      board: form.elements.board.value, round: form.elements.round.value,
      by: form.elements.by.value, field: input.name, text: input.value,
      seen: input.dataset.seen,
    }),
  });

  const again = (input, words) => {
    waiting.set(input, true);
    say(input, `Not kept: ${words} It is tried again.`);
    setTimeout(send, 3000);
  };

  // One after the other: an answer is never older than the page.
  const send = async () => {
    if (busy) return;
    const [input] = waiting.keys();
    if (!input) {
      if (going) location.href = going;
      return;
    }
    busy = true;
    const text = input.value;
    waiting.delete(input);
    let answer;
    let said = '';
    try {
      answer = await request(input);
      said = await answer.text();
    } catch {
      busy = false;
      again(input, 'the desk cannot be reached.');
      return;
    }
    busy = false;
    if (answer.status !== 200 && answer.status !== 409) {
      const main = new DOMParser().parseFromString(said, 'text/html').querySelector('main');
      const words = main ? [...main.querySelectorAll('h1, .trouble')] : [];
      again(input, `${words.map((one) => one.textContent.trim()).join('. ')}.`);
      return;
    }
    takeOver(said);
    const remark = wrap(input).querySelector('.said');
    // What another screen typed has now been seen.
    input.dataset.seen = answer.status === 200 ? text.trim() : remark.dataset.there;
    input.removeAttribute('aria-invalid');
    if (remark.textContent.trim() !== '') input.setAttribute('aria-invalid', 'true');
    // Something else may have been typed meanwhile.
    if (input.value !== text) soon(input, 0);
    else {
      wrap(input).classList.toggle('kept', answer.status === 200 && text !== '');
      wrap(input).classList.remove('waiting');
    }
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
    // An empty field ends its length, and so does the last of those that are asked for.
    const all = [...form.querySelectorAll('.reading')];
    const place = (other) => other.name.split('|').slice(0, 2).join('|');
    const later = all.slice(all.indexOf(input) + 1);
    const next = later.find((other) => place(other) !== place(input)
      || (input.value.trim() !== '' && asked(other)));
    if (next) next.focus();
    else document.querySelector('aside .button')?.focus();
  });
  form.addEventListener('focusin', (event) => {
    if (isReading(event.target)) event.target.select();
  });
  // Whoever comes back goes on where the first reading is missing.
  const all = [...form.querySelectorAll('.reading')];
  const first = all.find((input) => input.value === '' && asked(input));
  if (first && !location.hash) first.focus();

  // Nothing is left behind by a link, a closed tab or a closed lid.
  document.addEventListener('click', (event) => {
    const link = event.target.closest('a[href]');
    if (!link || link.hash || (!busy && waiting.size === 0)) return;
    event.preventDefault();
    going = link.href;
    clearTimeout(timer);
    send();
  });
  addEventListener('beforeunload', (event) => {
    if (!going && waiting.size > 0) event.preventDefault();
  });
  addEventListener('pagehide', () => {
    for (const input of waiting.keys()) request(input).catch(() => {});
    waiting.clear();
  });
})();
