/** The counts in the making of whoever is signed in. */
import { onPersonLeft } from '.';
import { formDrafts } from './form-drafts';
import { createCounters } from './trial/counter';

export const counters = createCounters({ drafts: formDrafts, now: () => Date.now(), path: () => location.pathname });
onPersonLeft(counters.forget);
