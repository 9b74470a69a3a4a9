// A press on the sheet writes its place into the form; the first press the place, a second one the other corner.

export function placeNotes() {
  for (const picture of document.querySelectorAll('[data-place-note]')) {
    const form = document.getElementById(picture.dataset.placeNote);
    if (!form) continue;
    let second = false;
    picture.addEventListener('click', (event) => {
      const { left, top, width, height } = picture.getBoundingClientRect();
      const across = (((event.clientX - left) / width) * 100).toFixed(1);
      const down = (((event.clientY - top) / height) * 100).toFixed(1);
      const corner = second && form.elements.shape.value !== 'pin';
      form.elements[corner ? 'toLeftPercent' : 'leftPercent'].value = across;
      form.elements[corner ? 'toTopPercent' : 'topPercent'].value = down;
      second = !corner;
      if (corner || form.elements.shape.value === 'pin') form.elements.words.focus();
    });
  }
}
