import type { Actor } from '../../actor.ts';
import { idOr404 } from '../../people/routes.ts';
import { Invalid, NotFound, Refused } from '../../problems.ts';
import { withChoices } from '../../web/forms/choices.ts';
import { fillForm } from '../../web/forms/fill.ts';
import { judgeForm, type Judged } from '../../web/forms/judge.ts';
import type { Field, FormSpec, Typed } from '../../web/forms/spec.ts';
import type { Deps } from '../../web/deps.ts';
import type { ItemKind } from '../kinds/definition.ts';
import { drawingFiles } from '../kinds/drawing/files.ts';
import type { KindForm } from '../kinds/form.ts';

/** @throws NotFound for a kind that has no form here. */
export function formFor(deps: Pick<Deps, 'forms'>, kind: string): KindForm {
  const form = deps.forms.get(kind as ItemKind);
  if (form === undefined) throw new NotFound('That form');
  return form;
}

/** The opening that a new item is for; null for the project's own criteria. @throws NotFound for another project's. */
export async function openingFor(
  deps: Pick<Deps, 'prisma'>,
  actor: Actor,
  kind: ItemKind,
  asked: string | undefined,
): Promise<string | null> {
  if (kind === 'criteria') return null;
  const opening = await deps.prisma.opening.findFirst({
    where: { id: idOr404(asked ?? ''), projectId: actor.projectId },
    select: { id: true },
  });
  if (opening === null) throw new NotFound('That opening');
  return opening.id;
}

/** The form of a kind as this opening has it: with the files that a drawing can be, and the one that it is. */
export async function specFor(
  deps: Pick<Deps, 'forms' | 'prisma'>,
  actor: Actor,
  item: { readonly kind: ItemKind; readonly openingId: string | null },
  content?: unknown,
): Promise<FormSpec> {
  const { spec } = formFor(deps, item.kind);
  if (item.kind !== 'drawing' || item.openingId === null) return spec;
  const files = await drawingFiles(deps.prisma, actor.projectId, item.openingId);
  return withChoices(spec, { 'drawing files': files }, fillForm(spec, content));
}

/** `judgeForm`, and besides: what was chosen must have been offered, where the page alone knew the choices. */
export function judgeItemForm(
  deps: Pick<Deps, 'kinds'>,
  kind: ItemKind,
  spec: FormSpec,
  typed: Typed,
): Judged<unknown> {
  const judged = judgeForm(spec, deps.kinds.get(kind).schema, typed);
  const errors = { ...notOffered(spec.fields, typed), ...judged.form.errors };
  return Object.keys(errors).length === 0
    ? judged
    : { ok: false, form: { ...judged.form, values: typed, errors } };
}

function notOffered(fields: readonly Field[], typed: Typed): Record<string, string> {
  const errors: Record<string, string> = {};
  for (const field of fields) {
    if (field.kind === 'group') Object.assign(errors, notOffered(field.fields, typed));
    if (field.kind !== 'select' || field.optionsFrom === undefined) continue;
    const value = typed[field.name] ?? '';
    if (!field.options.some((option) => option.value === value && value !== '')) {
      errors[field.name] = `${field.label}: choose one of the list.`;
    }
  }
  return errors;
}

/** What the record or the engine refused, as sentences of the form. Anything else is not the form's to tell. */
export function fieldErrors(error: unknown): Readonly<Record<string, string>> {
  if (error instanceof Invalid) {
    const names: Record<string, string> = { key: '_key', title: '_title', reason: '_reason' };
    return Object.fromEntries(
      Object.entries(error.fields).map(([name, text]) => [names[name] ?? name, text]),
    );
  }
  if (error instanceof Refused) return { '': error.message };
  throw error;
}
