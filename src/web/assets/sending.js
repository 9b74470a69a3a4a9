// One press, one sending; a question before what can't be taken back.

/** A second press while the first is under way is dropped. The server refuses doubles as well. */
export function guardSending(form) {
  form.addEventListener('submit', (event) => {
    if (event.defaultPrevented) return;
    if (form.dataset.sending === 'yes') {
      event.preventDefault();
      return;
    }
    if (form.method === 'get' || form.target === '_blank') return;
    form.dataset.sending = 'yes';
    // aria-disabled, not disabled: the button's own name and value must still be sent.
    for (const button of form.querySelectorAll('button[type=submit]')) {
      button.setAttribute('aria-disabled', 'true');
    }
  });
}

// Back and forward bring a page as it was left: let it send again.
window.addEventListener('pageshow', () => {
  for (const form of document.forms) {
    delete form.dataset.sending;
    for (const button of form.querySelectorAll('button[aria-disabled=true]')) {
      button.removeAttribute('aria-disabled');
    }
  }
});

/** Puts the question of `data-confirm` on the button pressed, or on the form. */
export function askBeforeSending() {
  document.addEventListener(
    'submit',
    (event) => {
      const question = event.submitter?.dataset.confirm ?? event.target.dataset.confirm;
      if (question && !window.confirm(question)) {
        event.preventDefault();
        event.stopPropagation();
      }
    },
    true,
  );
}
