/** How a visit can be closed, in the order in which the form asks. */
export const outcomes = [
  { value: 'passed', text: 'Passed' },
  { value: 'partial', text: 'Partial: a portion may go on' },
  { value: 'correction_needed', text: 'Correction needed' },
  { value: 'not_ready', text: 'Not ready' },
  { value: 'no_access', text: 'No access' },
  { value: 'stop_work', text: 'Stop work' },
] as const;
