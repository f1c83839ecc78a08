/** What stands in the forms of whoever is signed in. */
import { beforeLock, drafts, session } from '.';
import { createFormDrafts } from './draft/form-drafts';

export const formDrafts = createFormDrafts(drafts, {
  set: (run, ms) => setTimeout(run, ms),
  clear: (timer) => {
    clearTimeout(timer as number | undefined);
  },
});
beforeLock(formDrafts.flush);
// Also when somebody comes in: what was looked for while nobody was here was not found.
let at = '';
session.subscribe((one) => {
  const person = one?.person.id ?? '';
  if (person !== at) formDrafts.forget();
  at = person;
});
// Another tab writes them too.
drafts.arrived.subscribe((one) => {
  if (one !== null) formDrafts.reread(one.key);
});
