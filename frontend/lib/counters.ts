/** The counts in the making of whoever is signed in. */
import { onPersonLeft } from '.';
import { formDrafts } from './form-drafts';
import { createCounters } from './trial/counter';
import { momentNow } from './trial/moment';

export const counters = createCounters({ drafts: formDrafts, moment: momentNow, path: () => location.pathname });
onPersonLeft(counters.forget);
