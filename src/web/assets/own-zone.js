// The time zone of a new house: whoever makes the project mostly stands near it, and sees what was chosen.

/** A zone can go by two names, as Asia/Kolkata and Asia/Calcutta: which of them this browser uses. */
const nameHere = (timeZone) => new Intl.DateTimeFormat('en-US', { timeZone }).resolvedOptions().timeZone;

function isHere(value, here) {
  try {
    return value !== '' && nameHere(value) === here;
  } catch {
    // A zone that this browser does not know.
    return false;
  }
}

export function chooseOwnZone(form) {
  const select = form.querySelector('select[data-preset="own zone"]');
  if (select === null || select.value !== '') return;
  const here = nameHere(undefined);
  const options = [...select.options];
  const own = options.find(({ value }) => value === here) ?? options.find(({ value }) => isHere(value, here));
  if (own !== undefined) own.selected = true;
}
