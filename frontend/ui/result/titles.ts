/** Titles and places of a checklist's items, looked up by id. */
import type { Definition } from '../../lib/records/types';

export interface ItemPlace {
  readonly title: string;
  /** Code of the section that holds the item. */
  readonly section: string;
}

export interface Titles {
  readonly item: (id: string) => ItemPlace | null;
  readonly section: (code: string) => string;
}

/** Prepares the look-up for one checklist; an unknown id gives null or itself. */
export function createTitles(checklist: Definition): Titles {
  const items = new Map<string, ItemPlace>();
  const sections = new Map<string, string>();
  for (const section of checklist.sections) {
    sections.set(section.code, section.title);
    for (const item of section.items) items.set(item.id, { title: item.title, section: section.code });
  }
  return { item: (id) => items.get(id) ?? null, section: (code) => sections.get(code) ?? code };
}
