/** The runs in the making of whoever is signed in. */
import { drafts, session } from '.';
import { createTrialStore } from './trial/trial-store';

export const trials = createTrialStore(drafts, () => Date.now());

let at = '';
session.subscribe((one) => {
  const person = one?.person.id ?? '';
  if (person !== at) trials.forget();
  at = person;
});
