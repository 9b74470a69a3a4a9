import { absent, row, type Requirement } from './requirement.ts';

const none = absent('No WebRTC: no TURN server, no media, no signalling.');

export const v17: readonly Requirement[] = [
  row('17.1.1', 2, 'TURN: no reserved addresses', none),
  row('17.2.1', 2, 'DTLS: the key is kept', none),
  row('17.2.2', 2, 'DTLS: ciphers', none),
  row('17.2.3', 2, 'SRTP is authenticated', none),
  row('17.2.4', 2, 'SRTP: bad packets', none),
  row('17.3.1', 2, 'Signalling: floods', none),
  row('17.3.2', 2, 'Signalling: bad messages', none),
];
