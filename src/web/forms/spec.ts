import type { TopicName } from '../help/topics.ts';

/**
 * A form as data: what it asks, in which words. One description reads what was typed (`readForm`), fills the
 * form from stored content (`fillForm`) and is drawn by templates/parts/spec-form.njk. Names are the paths of
 * the content: 'strips.0.spacingIn'.
 */
/** Asked only where another box of the same object holds one of these; else it does not count, whatever it holds. */
export interface When {
  readonly field: string;
  readonly is: readonly string[];
}

interface Asked {
  readonly name: string;
  readonly when?: When;
  readonly label: string;
  readonly hint?: string;
  readonly example?: string;
  /** What a person may ask here, answered beside the field; in a list, beside its first row only. */
  readonly help?: readonly TopicName[];
  /** May be left blank; the content then has no such entry. */
  readonly optional?: boolean;
  /** May be left blank; the content then holds ''. */
  readonly blankIsText?: boolean;
}

export interface Option {
  readonly value: string;
  readonly text: string;
  readonly hint?: string;
}

/** Options of a long list under a heading. */
export interface OptionGroup {
  readonly heading: string;
  readonly options: readonly Option[];
}

export type Field =
  | (Asked & { readonly kind: 'text'; readonly maxLength?: number })
  | (Asked & { readonly kind: 'textarea'; readonly rows?: number; readonly maxLength?: number })
  /** Typed as the trade writes it, stored in inches. */
  | (Asked & { readonly kind: 'length' })
  | (Asked & { readonly kind: 'number'; readonly unit?: string; readonly whole?: boolean })
  | (Asked & {
      readonly kind: 'select';
      readonly options: readonly Option[];
      /** Further options that only the page knows, by name; see choices.ts. */
      readonly optionsFrom?: string;
    })
  | (Asked & { readonly kind: 'checkbox' })
  | GroupField
  | ListField;

/** Fields that belong together. With `prefix` they make an object; blank all through and `optional`: none. */
export interface GroupField {
  readonly kind: 'group';
  readonly label: string;
  readonly hint?: string;
  readonly help?: readonly TopicName[];
  readonly prefix?: string;
  readonly optional?: boolean;
  readonly when?: When;
  readonly fields: readonly Field[];
}

/** Rows of the same kind, added and removed one by one. */
export interface ListField {
  readonly kind: 'list';
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly help?: readonly TopicName[];
  /** 'Joist strip': "Joist strip 2", "Add a joist strip". */
  readonly one: string;
  readonly max: number;
  readonly fields: readonly Field[];
  /** What a new row starts with, as typed. */
  readonly start: Readonly<Record<string, string>>;
}

export interface FormSpec {
  readonly fields: readonly Field[];
}

/** What is in the boxes: name → text. A ticked checkbox holds 'yes'. */
export type Typed = Readonly<Record<string, string>>;
