/** The counts in the making of whoever is signed in. */
import { drafts, onPersonLeft } from '.';
import { createCounters } from './trial/counter';

export const counters = createCounters(drafts, () => Date.now());
onPersonLeft(counters.forget);
