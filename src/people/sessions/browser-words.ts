/** Families by what they call themselves; the first that fits, since most name others beside themselves. */
const BROWSERS: readonly (readonly [RegExp, string])[] = [
  [/\bEdg(?:A|iOS)?\//, 'Edge'],
  [/\b(?:Firefox|FxiOS)\//, 'Firefox'],
  [/\b(?:Chrome|CriOS|Chromium)\//, 'Chrome'],
  [/\bVersion\/\S+ .*\bSafari\//, 'Safari'],
];

const DEVICES: readonly (readonly [RegExp, string])[] = [
  [/\biPhone\b/, 'an iPhone'],
  [/\biPad\b/, 'an iPad'],
  [/\bAndroid\b.*\bMobile\b/, 'an Android phone'],
  [/\bAndroid\b/, 'an Android tablet'],
  [/\bWindows\b/, 'a Windows computer'],
  [/\bMacintosh\b/, 'a Mac'],
  [/\bCrOS\b/, 'a Chromebook'],
  [/\bLinux\b/, 'a Linux computer'],
];

/**
 * "Firefox on a Windows computer": by what the browser says of itself (User-Agent, RFC 9110 section 10.1.5), enough for
 * a person to know their own devices apart, and no more is kept of it. '' where it says nothing.
 */
export function browserWords(userAgent: string | undefined): string {
  const said = (userAgent ?? '').slice(0, 400);
  if (said.trim() === '') return '';
  const among = (names: typeof BROWSERS) => names.find(([pattern]) => pattern.test(said))?.[1];
  return `${among(BROWSERS) ?? 'Another browser'} on ${among(DEVICES) ?? 'another device'}`;
}
