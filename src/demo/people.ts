/**
 * The four people of the demo. The password is public on purpose and shown on the sign-in page of a demo
 * installation; elsewhere these accounts do not exist.
 */
export const demoPassword = 'cinder ferry demo';

export const demoSignIns = [
  { role: 'contractor', name: 'R. T.', email: 'contractor@demo.example' },
  { role: 'engineer', name: 'K. O.', email: 'engineer@demo.example' },
  { role: 'inspector', name: 'D. V.', email: 'inspector@demo.example' },
  { role: 'owner', name: 'S. L.', email: 'owner@demo.example' },
] as const;
