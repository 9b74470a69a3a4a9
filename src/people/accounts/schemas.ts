import { z } from 'zod';
import { isEasyPassword } from './easy-passwords.ts';

export const EASY =
  'That is among the first that would be guessed. Use a few words that have nothing to do with each other.';

export const emailSchema = z
  .string()
  .trim()
  .toLowerCase()
  .max(254, 'That address is too long.')
  .pipe(z.email('Enter an e-mail address, like name@example.org.'));

export const LEAST_PASSWORD_LENGTH = 12;

/** NIST SP 800-63B: length over rules of composition; no truncation; what is guessed first is refused. */
export const newPasswordSchema = z
  .string()
  .min(
    LEAST_PASSWORD_LENGTH,
    `Use at least ${LEAST_PASSWORD_LENGTH} characters; a few words in a row are fine.`,
  )
  .max(200, 'Use at most 200 characters.')
  .refine((password) => !isEasyPassword(password), EASY);

const personName = z
  .string()
  .trim()
  .min(1, 'Enter the name that the record should carry.')
  .max(80, 'Use at most 80 characters.');

export const signUpSchema = z
  .object({ name: personName, email: emailSchema, password: newPasswordSchema })
  .refine(({ name, email, password }) => !isEasyPassword(password, [name, email]), {
    path: ['password'],
    message: EASY,
  });

export const signInSchema = z.object({
  email: emailSchema,
  password: z.string().min(1, 'Enter your password.').max(200, 'Use at most 200 characters.'),
});

export const presentPasswordSchema = z
  .string()
  .min(1, 'Enter your present password.')
  .max(200, 'Use at most 200 characters.');

export const changePasswordSchema = z.object({ current: presentPasswordSchema, password: newPasswordSchema });

export type SignUp = z.infer<typeof signUpSchema>;
export type SignIn = z.infer<typeof signInSchema>;
export type ChangePassword = z.infer<typeof changePasswordSchema>;
