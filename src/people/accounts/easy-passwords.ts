import { commonWords } from './common-words.ts';
import { isMuchUsedPassword } from './much-used-passwords.ts';

/**
 * Words that stand for this place: whoever guesses at accounts here tries them first (OWASP ASVS 5.0, 6.1.2). The
 * list is the documentation, too.
 */
export const wordsOfThisPlace = [
  'lintelbook',
  'lintel',
  'beam',
  'bearing',
  'wall',
  'header',
  'opening',
  'engineer',
  'contractor',
  'inspector',
  'owner',
  'builder',
  'framing',
  'shoring',
  'footing',
  'jobsite',
  'permit',
  'project',
  'demo',
] as const;

/** Words that most easy passwords are made of (common practice; from memory of published lists of them). */
const COMMON_WORDS = [
  'password',
  'passwort',
  'passphrase',
  'passcode',
  'pass',
  'secret',
  'welcome',
  'letmein',
  'login',
  'signin',
  'access',
  'admin',
  'administrator',
  'root',
  'user',
  'guest',
  'test',
  'testing',
  'default',
  'changeme',
  'change',
  'temp',
  'qwerty',
  'qwertyuiop',
  'azerty',
  'asdfgh',
  'asdfghjkl',
  'zxcvbn',
  'zxcvbnm',
  'abc',
  'abcd',
  'iloveyou',
  'love',
  'sunshine',
  'princess',
  'dragon',
  'monkey',
  'football',
  'baseball',
  'basketball',
  'soccer',
  'hockey',
  'master',
  'superman',
  'batman',
  'shadow',
  'trustno',
  'freedom',
  'whatever',
  'computer',
  'internet',
  'hello',
  'summer',
  'winter',
  'spring',
  'autumn',
  'monday',
  'friday',
  'january',
  'december',
  'mustang',
  'michael',
  'jennifer',
  'charlie',
  'ashley',
  'company',
  'office',
  'house',
  'home',
  'my',
  'the',
  'is',
  'me',
  'you',
  'new',
  'one',
  'two',
  'god',
  'jesus',
  'please',
  'now',
  'here',
  'for',
  'in',
  'let',
  'not',
  'no',
  'yes',
] as const;

/** Rows of keys and of the alphabet, there and back. */
const RUNS = [
  'abcdefghijklmnopqrstuvwxyz',
  '01234567890',
  'qwertyuiop',
  'asdfghjkl',
  'zxcvbnm',
  '1qaz2wsx3edc4rfv5tgb6yhn',
  // Columns and diagonals of the figures on a keypad.
  '147258369',
  '159753456852',
  '123654789',
  '456123789',
  '1122334455667788990',
].flatMap((run) => [run, Array.from(run).reverse().join('')]);

const LEET: Readonly<Record<string, string>> = {
  '0': 'o',
  '1': 'l',
  '3': 'e',
  '4': 'a',
  '5': 's',
  '7': 't',
  '@': 'a',
  $: 's',
  '!': 'i',
};

/**
 * Is it among the first that would be guessed: of a list of breached ones, or by rule? By rule, figures and signs around words count for little: what is left has to
 * be more than one or two common words, words of this place, the person's own, runs of keys and repetition.
 */
export function isEasyPassword(password: string, own: readonly string[] = []): boolean {
  if (isMuchUsedPassword(password)) return true;
  const plain = password.normalize('NFC').toLowerCase();
  if (new Set(plain).size <= 3 || isRepeated(plain)) return true;
  if (isInterleaved(plain)) return true;
  const words = new Map<string, number>([
    ...commonWords.map((word) => [word, COMMON_WORD] as const),
    ...[...wordsOfThisPlace, ...COMMON_WORDS, ...own.flatMap(partsOf)].map((word) => [word, 0] as const),
  ]);
  return [plain, plain.replace(/[013457@$!]/g, (sign) => LEET[sign] ?? sign)].some(
    (one) => leftOver(one, words) < 4,
  );
}

function partsOf(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((part) => part.length >= 3);
}

/** 'hammerhammer' is 'hammer'. */
function isRepeated(text: string): boolean {
  return (text + text).indexOf(text, 1) < text.length;
}

/** '1q2w3e4r5t6y', 'a1b2c3d4e5f6': two runs, a sign of each in turn. */
function isInterleaved(text: string): boolean {
  const [odd, even] = [0, 1].map((turn) => Array.from(text).filter((_, place) => place % 2 === turn));
  return [odd, even].every((half) => half !== undefined && half.length >= 4 && isRun(half.join('')));
}

/** One or two of the many common words are guessed with figures behind them; three that have nothing in common are not. */
const COMMON_WORD = 1.5;

/** A figure or a sign is worth a third of a letter: twelve of them in no order will do, four behind a word will not. */
const SIGN = 0.34;

/** How many letters no known word and no run explains: the least, over all ways to lay them (dynamic programming). */
function leftOver(text: string, words: ReadonlyMap<string, number>): number {
  const characters = text.replace(/\s/g, '');
  const least = [0];
  for (let end = 1; end <= characters.length; end += 1) {
    const last = characters.charAt(end - 1);
    let best = (least[end - 1] ?? 0) + (/\p{L}/u.test(last) ? 1 : SIGN);
    for (let start = Math.max(0, end - 30); start < end; start += 1) {
      const piece = characters.slice(start, end);
      const cost = piece.length >= 3 && isRun(piece) ? 0 : words.get(piece);
      if (cost !== undefined) best = Math.min(best, (least[start] ?? 0) + cost);
    }
    least.push(best);
  }
  return least[characters.length] ?? 0;
}

function isRun(piece: string): boolean {
  return RUNS.some((run) => run.includes(piece)) || new Set(piece).size === 1;
}
