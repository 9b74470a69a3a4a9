/** Where the service itself connects to: each an address, or unset. */
export interface Connections {
  readonly DATABASE_URL?: string | undefined;
  readonly MIGRATION_DATABASE_URL?: string | undefined;
  readonly SMTP_URL?: string | undefined;
  readonly S3_ENDPOINT?: string | undefined;
}

/**
 * What is wrong with connections that leave this machine: not encrypted, or to whoever answers (OWASP ASVS 5.0, 12.3.1
 * and 12.3.2). One line for each setting; no value is repeated, it may hold a password.
 */
export function plainConnections(connections: Connections): string[] {
  return Object.entries(RULES).flatMap(([name, { encrypted, remedy }]) => {
    const text = connections[name as keyof Connections];
    const url = text === undefined ? null : read(text);
    // What can't be read is told of where it is used.
    if (url === null || staysHere(url) || encrypted(url)) return [];
    return [`${name}: leads to another machine without encryption; ${remedy}`];
  });
}

const database = {
  // The drivers differ on `require`: one of them then asks for no certificate that holds.
  encrypted: (url: URL) => url.searchParams.get('sslmode') === 'verify-full',
  remedy: 'end it with ?sslmode=verify-full (NODE_EXTRA_CA_CERTS names an authority of your own).',
};

const RULES: Readonly<Record<keyof Connections, { encrypted: (url: URL) => boolean; remedy: string }>> = {
  DATABASE_URL: database,
  MIGRATION_DATABASE_URL: database,
  SMTP_URL: {
    // With a user STARTTLS is insisted on (smtp-carrier.ts).
    encrypted: (url) => url.protocol === 'smtps:' || url.username !== '',
    remedy: 'let it begin with smtps:, or name a user, for whom STARTTLS is insisted on.',
  },
  S3_ENDPOINT: { encrypted: (url) => url.protocol === 'https:', remedy: 'let it begin with https:.' },
};

/** The loopback addresses and their name (RFC 1122, 3.2.1.3; RFC 4291, 2.5.3; RFC 6761, 6.3), or a socket of this machine. */
function staysHere(url: URL): boolean {
  const host = url.searchParams.get('host') ?? decodeURIComponent(url.hostname);
  return host === '' || host.startsWith('/') || /^(?:localhost|127(?:\.\d{1,3}){3}|\[?::1\]?)$/.test(host);
}

function read(text: string): URL | null {
  return URL.canParse(text) ? new URL(text) : null;
}
