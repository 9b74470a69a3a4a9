import { BlockList, isIP } from 'node:net';
import type { EventType } from '../../record/events/payloads.ts';
import type { Config } from '../../web/config.ts';

/** The events that an address outside can be told of. What people say to each other and to the family is not among them. */
export const tellableKinds = {
  'version.saved': 'A version of an item is saved',
  'versions.submitted': 'Versions are handed to the engineer',
  'version.marked': 'The engineer says a word on a version',
  'question.asked': 'A question is asked',
  'question.answered': 'A question is answered',
  'set.issued': 'An approved set is issued',
  'checklist.produced': 'A checklist is produced',
  'visit.opened': 'A visit is opened',
  'finding.recorded': 'A finding is recorded',
  'visit.closed': 'A visit is closed',
  'correction.answered': 'A correction is answered',
  'hold.accepted': 'The engineer accepts a hold point',
  'hold_point.closed': 'A step that was released is held again',
  'delivery.received': 'A delivery is received',
  'delivery.mismatched': 'A delivered line is not what was called for',
} as const satisfies Partial<Record<EventType, string>>;
export type TellableKind = keyof typeof tellableKinds;

/** Where calls may go. */
export interface WaysOut {
  readonly plainHttp: boolean;
  readonly privateAddresses: boolean;
}

export function waysOut(config: Pick<Config, 'demo' | 'webhooksToPrivateAddresses'>): WaysOut {
  return { plainHttp: config.demo !== null, privateAddresses: config.webhooksToPrivateAddresses };
}

/**
 * Special-purpose addresses (RFC 6890 and the IANA registries it set up; from memory), multicast (RFC 5771) and the
 * reserved block (RFC 1112): none of them is a receiver out there, and some are our own neighbours.
 */
const special = new BlockList();
for (const [network, prefix] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.0.2.0', 24],
  ['192.88.99.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
  ['224.0.0.0', 3],
] as const) {
  special.addSubnet(network, prefix, 'ipv4');
}
/** Of IPv6 only what is assigned for the open network, without what embeds or documents other addresses. */
const global6 = new BlockList();
global6.addSubnet('2000::', 3, 'ipv6');
const special6 = new BlockList();
for (const [network, prefix] of [
  ['2001::', 23],
  ['2001:db8::', 32],
  ['2002::', 16],
  ['3fff::', 20],
] as const) {
  special6.addSubnet(network, prefix, 'ipv6');
}

/** Is it an address of the open network? What is no address is not. */
export function isPublicAddress(address: string): boolean {
  const family = isIP(address);
  if (family === 4) return !special.check(address, 'ipv4');
  if (family === 6) return global6.check(address, 'ipv6') && !special6.check(address, 'ipv6');
  return false;
}

const LONGEST = 2000;

/** Why an address can't be told; null where it can, as far as it says itself. Where it leads is seen at each call. */
export function addressProblem(text: string, ways: WaysOut): string | null {
  const url = URL.parse(text);
  if (url === null || text.length > LONGEST) return 'Enter an address, like https://example.org/told.';
  if (url.protocol !== 'https:' && !(ways.plainHttp && url.protocol === 'http:')) {
    return 'The address must begin with https://.';
  }
  if (url.username !== '' || url.password !== '') return 'Leave user and password out of the address.';
  const host = url.hostname.replace(/^\[|\]$/g, '');
  if (isIP(host) !== 0 && !ways.privateAddresses && !isPublicAddress(host)) {
    return 'That address does not lead to the open network.';
  }
  return null;
}
