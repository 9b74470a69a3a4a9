import { absent, operator, row, tested, type Requirement } from './requirement.ts';

const noGraphql = absent('No GraphQL.');
const noSockets = absent(
  'No WebSocket: open pages are told by server-sent events, over the session of the page.',
);

export const v04: readonly Requirement[] = [
  row(
    '4.1.1',
    1,
    'The type of an answer, with its characters',
    tested(['security/headers.http.test.ts', 'name their type and, where they are text, their characters']),
  ),
  row(
    '4.1.2',
    2,
    'Only pages lead from HTTP to HTTPS',
    operator('TLS ends at the proxy before the service; the service itself redirects nobody.'),
  ),
  row(
    '4.1.3',
    2,
    'Headers of the proxy cannot be made up',
    tested(['security/headers.http.test.ts', 'an address made up by the sender is not believed']),
  ),
  row(
    '4.2.1',
    2,
    'No smuggling: where a request ends',
    tested(['security/wire.http.test.ts', 'a request that says its length twice or two ways is refused']),
  ),
  row('4.3.1', 2, 'GraphQL: bounded queries', noGraphql),
  row('4.3.2', 2, 'GraphQL: no introspection', noGraphql),
  row('4.4.1', 1, 'WebSocket over TLS', noSockets),
  row('4.4.2', 2, 'WebSocket: origin is checked', noSockets),
  row('4.4.3', 2, 'WebSocket: tokens of its own', noSockets),
  row('4.4.4', 2, 'WebSocket: tokens from the session', noSockets),
];
