/** What stands in one form, field or dialog. */
export interface FormDraft {
  readonly value: unknown;
  /** What was saved when somebody began to change it. */
  readonly before: unknown;
  /** What it is, for the person who left it; without it, it is only where one was. */
  readonly title?: string | undefined;
  /** The address of its screen. */
  readonly path?: string | undefined;
  /** What other tabs have there, where it is neither the same nor about other fields. */
  readonly others?: readonly unknown[] | undefined;
  /** All tabs have one, and what was done last stands: a count, a clock. */
  readonly shared?: boolean | undefined;
}

export type FormDrafts = Readonly<Record<string, FormDraft>>;
