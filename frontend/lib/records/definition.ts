/** A checklist as its author wrote it: see internal/checklist. */
import type { Level } from '../model.gen';

export type { Ask, Band, Condition, Definition, Effect, Item, Level, Section } from '../model.gen';

/** One of the levels 4 to 0 that all help items share; it has a name. */
export type HelpLevel = Level;
