import { absent, row, type Requirement } from './requirement.ts';

const none = absent(
  'Neither OAuth nor OpenID Connect: the service signs its own people in and gives no access to third parties but by tokens that a person makes.',
);
const about = (numbers: readonly string[], level: 1 | 2, words: string) =>
  numbers.map((number) => row(number, level, words, none));

export const v10: readonly Requirement[] = [
  ...about(['10.1.1', '10.1.2'], 2, 'OAuth in general'),
  ...about(['10.2.1', '10.2.2'], 2, 'OAuth client'),
  ...about(['10.3.1', '10.3.2', '10.3.3', '10.3.4'], 2, 'OAuth resource server'),
  ...about(['10.4.1', '10.4.2', '10.4.3', '10.4.4', '10.4.5'], 1, 'OAuth authorization server'),
  ...about(['10.4.6', '10.4.7', '10.4.8', '10.4.9', '10.4.10', '10.4.11'], 2, 'OAuth authorization server'),
  ...about(['10.5.1', '10.5.2', '10.5.3', '10.5.4', '10.5.5'], 2, 'OIDC client'),
  ...about(['10.6.1', '10.6.2'], 2, 'OpenID provider'),
  ...about(['10.7.1', '10.7.2', '10.7.3'], 2, 'Consent'),
];
