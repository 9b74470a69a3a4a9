/** The route that answers an address: of those that fit, the one with the most fixed parts. */
export function routeOf(address: string, routes: readonly string[]): string | undefined {
  const { pathname } = new URL(address, 'http://here');
  const fixed = (url: string) => url.split('/').filter((part) => !/[:*]/.test(part)).length;
  return routes
    .filter((url) => expressionOf(url).test(pathname))
    .sort((a, b) => fixed(b) - fixed(a))
    .at(0);
}

function expressionOf(url: string): RegExp {
  const parts = url.split('/').map((part) =>
    part
      .split(/(:[A-Za-z]+|\*)/)
      .map((piece) => (/^[:*]/.test(piece) ? '[^/]+' : piece.replace(/[.+?]/g, '\\$&')))
      .join(''),
  );
  return new RegExp(`^${parts.join('/')}$`);
}
