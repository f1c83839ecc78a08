/** The runs in the making of whoever is signed in. */
import { drafts, onPersonLeft } from '.';
import { momentNow } from './trial/moment';
import { createTrialStore } from './trial/trial-store';

export const trials = createTrialStore(drafts, momentNow);
onPersonLeft(trials.forget);
