/** The runs in the making of whoever is signed in. */
import { drafts, onPersonLeft } from '.';
import { createTrialStore } from './trial/trial-store';

export const trials = createTrialStore(drafts, () => Date.now());
onPersonLeft(trials.forget);
