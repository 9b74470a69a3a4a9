// Moments as the clock on the reader's wall has them. The service writes them in its own zone; who stands at the wall
// thinks in another. In the same form, with the zone's name, and the time in UTC for whoever compares.

// The options of src/house-time.ts.
const MINUTE = {
  year: 'numeric',
  month: 'short',
  day: 'numeric',
  hour: 'numeric',
  minute: '2-digit',
  timeZoneName: 'short',
};
const minute = new Intl.DateTimeFormat('en-US', MINUTE);
const utcMinute = new Intl.DateTimeFormat('en-US', { ...MINUTE, timeZone: 'UTC' });
const day = new Intl.DateTimeFormat('en-US', { dateStyle: 'medium' });

/** A moment to the minute, in the zone of this browser. */
export const minuteText = (moment) => minute.format(new Date(moment));

function write(time) {
  const at = new Date(time.dateTime);
  time.textContent = (time.dataset.moment === 'day' ? day : minute).format(at);
  time.title = utcMinute.format(at);
}

function writeIn(part) {
  if (part.matches('time[data-moment]')) write(part);
  for (const time of part.querySelectorAll('time[data-moment]')) write(time);
}

/** Those on the page, and those that scripts put in later. */
export function writeMoments() {
  writeIn(document.body);
  const watch = new window.MutationObserver((changes) => {
    for (const { addedNodes } of changes) {
      for (const node of addedNodes) if (node instanceof window.Element) writeIn(node);
    }
  });
  watch.observe(document.body, { childList: true, subtree: true });
}
