/** What one kind of act took, each time. */
export class Figures {
  readonly #times = new Map<string, number[]>();
  readonly #told = new Map<string, number>();
  readonly errors: string[] = [];

  add(kind: string, ms: number): void {
    const known = this.#times.get(kind) ?? [];
    known.push(ms);
    this.#times.set(kind, known);
  }

  /** Somebody was told that another was first, or that there is nothing to do: no error. */
  told(kind: string): void {
    this.#told.set(kind, (this.#told.get(kind) ?? 0) + 1);
  }

  table(): void {
    const kinds = [...new Set([...this.#times.keys(), ...this.#told.keys()])].sort();
    const all = kinds.map((kind) => row(kind, this.#times.get(kind) ?? [], this.#told.get(kind) ?? 0));
    const pages = [...this.#times].filter(([kind]) => kind.startsWith('page')).flatMap(([, times]) => times);
    console.table([...all, row('all pages', pages, 0)]);
  }
}

function row(kind: string, times: readonly number[], told: number): object {
  const sorted = [...times].sort((one, other) => one - other);
  const at = (share: number) => Math.round(sorted[Math.floor((sorted.length - 1) * share)] ?? Number.NaN);
  return {
    what: kind,
    times: times.length,
    told,
    'median, ms': at(0.5),
    'p95, ms': at(0.95),
    'p99, ms': at(0.99),
    'most, ms': at(1),
  };
}
