import { describe, expect, it } from 'vitest';
import { seal, unseal } from '../../src/sealed.ts';

describe('a sealed secret', () => {
  const webhooks = 'lintelbook webhook secrets';
  it('opens under the secret of its installation alone, and not when it was changed', () => {
    const sealed = seal('the secret', 'one installation', webhooks);
    expect(sealed).not.toContain('the secret');
    expect(unseal(sealed, 'one installation', webhooks)).toBe('the secret');
    expect(() => unseal(sealed, 'another one', webhooks)).toThrow();
    const bytes = Buffer.from(sealed, 'base64url');
    bytes[bytes.length - 1]! ^= 1;
    expect(() => unseal(bytes.toString('base64url'), 'one installation', webhooks)).toThrow();
  });

  it('opens for what it was sealed for and for nothing else', () => {
    const sealed = seal('the secret', 'one installation', 'lintelbook one-time codes');
    expect(() => unseal(sealed, 'one installation', webhooks)).toThrow();
  });
});
