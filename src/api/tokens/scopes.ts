/** What a token may be used for. The person's role in a project limits it further, on every request. */
export const scopes = ['read', 'propose', 'mark', 'inspect'] as const;
export type Scope = (typeof scopes)[number];

export const scopeWords: Readonly<Record<Scope, string>> = {
  read: 'Read: projects, openings, items, versions, sets, checklists, visits, deliveries, the log',
  propose: 'Propose: save new versions of items',
  mark: 'Mark: approve, revise and return, where you are the engineer',
  inspect: 'Inspect: record findings, where you are the inspector',
};
