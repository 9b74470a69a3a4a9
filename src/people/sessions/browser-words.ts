/**
 * "A phone" or "a computer or tablet": by what the browser says of itself (User-Agent, RFC 9110 section 10.1.5; that
 * browsers on phones say "Mobi" is their common practice). With the times beside it, enough for a person to know their
 * own devices apart, and no more is kept of it. '' where it says nothing.
 */
export function browserWords(userAgent: string | undefined): string {
  const said = (userAgent ?? '').slice(0, 400);
  if (said.trim() === '') return '';
  if (!said.startsWith('Mozilla/')) return 'a program';
  return said.includes('Mobi') ? 'a phone' : 'a computer or tablet';
}
