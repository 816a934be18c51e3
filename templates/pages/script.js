// Small comforts; every page works without them.
'use strict';
document.documentElement.classList.add('script');

// A form that was just sent is not sent again by a second tap; after going back it may be.
addEventListener('submit', (event) => {
  const form = event.target;
  if (form.dataset.sent && Date.now() - Number(form.dataset.sent) < 8000) {
    event.preventDefault();
  } else {
    form.dataset.sent = String(Date.now());
  }
});
addEventListener('pageshow', () => {
  for (const form of document.forms) delete form.dataset.sent;
});

// <button data-copy="id"> copies the text of that element; <button data-share="id"> hands it over
// to the phone's own ways of sharing, and is taken away where there are none.
for (const button of document.querySelectorAll('[data-copy]')) {
  if (!navigator.clipboard) button.remove();
  button.addEventListener('click', async () => {
    await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).textContent);
    button.textContent = button.dataset.done;
    button.setAttribute('role', 'status');
  });
}
for (const button of document.querySelectorAll('[data-share]')) {
  if (!navigator.share) button.remove();
  button.addEventListener('click', () => {
    const url = document.getElementById(button.dataset.share).textContent;
    navigator.share({ title: document.title, url }).catch(() => {});
  });
}
for (const button of document.querySelectorAll('[data-print]')) {
  button.addEventListener('click', () => print());
}

// Where the browser does not focus a <div autofocus>, the summary of problems is focused here.
const problem = document.querySelector('.problem');
if (problem && document.activeElement !== problem) problem.focus();

// <div data-news="/address" data-every="10">: asked for anew every so many seconds, and exchanged
// where it differs. What comes back is a page's part from our own server, escaped there. Where
// somebody is at work inside it, it waits.
for (const place of document.querySelectorAll('[data-news]')) {
  let shown = null;
  const ask = async () => {
    if (document.hidden || place.contains(document.activeElement)) return;
    const answer = await fetch(place.dataset.news, { redirect: 'error' });
    if (!answer.ok) return;
    const text = await answer.text();
    if (shown !== null && text !== shown) place.innerHTML = text;
    shown = text;
  };
  const seconds = Number(place.dataset.every) || 10;
  setInterval(() => ask().catch(() => {}), seconds * 1000);
  ask().catch(() => {});
}
