import * as v from '../lib/schema';

const field = v.object({ label: v.string, nth: v.number, text: v.string, heading: v.optional(v.string) });

/** What versions before drafts of forms kept of a screen: its fields by their labels. */
export function readOlderInput(kept: unknown): readonly v.Infer<typeof field>[] {
  return v.tryParse(v.list(field), kept) ?? [];
}
