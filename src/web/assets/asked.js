// Boxes that are asked only where another box says so (`data-when`) step aside otherwise. The server leaves out what
// does not count, whether it was hidden or not.

function counts(place, form) {
  if (place.parentElement?.closest('[data-when][hidden]')) return false;
  const deciding = form.elements[place.dataset.when];
  return deciding === undefined || place.dataset.whenIs.split('|').includes(deciding.value);
}

export function showWhatIsAsked(form) {
  const places = [...form.querySelectorAll('[data-when]')];
  if (places.length === 0) return;
  const show = () => {
    // From the outside in: what stands in a hidden part is not asked either.
    for (const place of places) place.hidden = !counts(place, form);
  };
  form.addEventListener('input', show);
  show();
}
