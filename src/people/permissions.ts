import { roles, type Role } from './roles.ts';

/**
 * The permission table (invariant 7): who may do what, as data. A route names one of these actions in its
 * config; a route that names none, or one that is not here, keeps the service from starting. For project
 * actions the member's role is looked up on every request, and use cases check it again inside their
 * transaction.
 */
export type Rule =
  | { readonly who: 'anyone' }
  | { readonly who: 'signed in' }
  | { readonly who: 'members'; readonly roles: readonly Role[] };

const anyone = { who: 'anyone' } as const;
const signedIn = { who: 'signed in' } as const;
const members = (...allowed: Role[]) => ({ who: 'members', roles: allowed }) as const;

export const permissions = {
  'page.public': anyone,
  'asset.read': anyone,
  'health.read': anyone,
  'account.signUp': anyone,
  'account.signIn': anyone,
  'account.signOut': signedIn,
  'account.manage': signedIn,
  'account.recover': anyone,
  'mail.stop': anyone,
  'invitation.read': anyone,
  'invitation.accept': signedIn,

  /** What a person keeps for programs of their own: tokens, the address of a calendar. */
  'program.manage': signedIn,
  /** The address itself is the proof. */
  'calendar.read': anyone,
  'api.describe': anyone,
  /** Operations that are about no project: one's own list, a calculation that keeps nothing. */
  'api.use': signedIn,

  'home.read': anyone,
  'project.create': signedIn,
  'project.read': members(...roles),
  'project.edit': members('contractor'),
  'people.read': members(...roles),
  'people.invite': members('contractor'),
  'people.remove': members('contractor'),
  'log.read': members('contractor', 'engineer', 'inspector'),

  /** All of it, drafts and files too, as one package: for those who may read all of it here. */
  'record.take': members('contractor', 'engineer'),

  /** Whoever runs the job and whoever answers for the structure may have programs of theirs told. */
  'webhook.manage': members('contractor', 'engineer'),

  'opening.create': members('contractor'),
  'opening.read': members(...roles),
  'item.create': members('contractor', 'engineer'),
  'item.read': members('contractor', 'engineer'),
  'item.save': members('contractor', 'engineer'),
  'item.search': members('contractor', 'engineer'),
  'schedule.propose': members('contractor', 'engineer'),
  'schedule.import': members('contractor', 'engineer'),
  'submission.create': members('contractor'),
  'mark.create': members('engineer'),
  'question.create': members('contractor', 'engineer'),
  'set.issue': members('engineer'),
  'set.read': members(...roles),
  /** Looks only among the person's own projects. */
  'set.check': signedIn,
  'set.calculation': members('contractor', 'engineer', 'inspector'),

  'checklist.read': members('contractor', 'engineer', 'inspector'),
  'visit.read': members('contractor', 'engineer', 'inspector'),
  'visit.open': members('inspector'),
  'finding.record': members('inspector'),
  'visit.close': members('inspector'),
  'correction.answer': members('contractor'),
  'self_check.answer': members('contractor'),
  'visit.call': members('contractor'),
  'inspections.read': members('contractor', 'engineer', 'inspector'),
  // Whoever holds the permit and whoever answers for the structure; the inspector sees each change.
  'inspections.plan': members('contractor', 'engineer'),
  'hold.accept': members('engineer'),

  'service.read': members('contractor', 'engineer', 'inspector'),
  'service.log': members('contractor'),

  'attachment.add': members('contractor', 'engineer', 'inspector'),
  'attachment.read': members(...roles),
  'attachment.share': members('contractor'),
  'note.save': members('contractor', 'engineer', 'inspector'),
  'progress.read': members(...roles),
  'materials.read': members(...roles),
  'live.read': members(...roles),
  'owner.say': members('contractor', 'owner'),
  'family.manage': members('owner'),
  'family.read': anyone,
  'sequence.read': members('contractor', 'engineer', 'inspector'),
  'sequence.plan': members('contractor'),
  'work.log': members('contractor'),
  'salvage.read': members(...roles),
  'salvage.list': members('contractor'),
  'salvage.decide': members('owner'),
  'delivery.read': members('contractor', 'engineer', 'inspector'),
  'delivery.record': members('contractor'),
  'order.place': members('contractor'),
  'substitution.try': members('contractor', 'engineer'),
  'substitution.offer': members('contractor'),
} as const satisfies Record<string, Rule>;

export type Action = keyof typeof permissions;

export function ruleFor(action: Action): Rule {
  return permissions[action];
}

/** May a member in this role do it? Actions that are not about a project's members answer no. */
export function roleMay(role: Role, action: Action): boolean {
  const rule: Rule = permissions[action];
  return rule.who === 'members' && rule.roles.includes(role);
}
