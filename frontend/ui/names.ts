/** Names of colleagues for their ids, from the directory that the tablet keeps. */
import { colleagues, session } from '../lib';

/** "you", a colleague's name, or "a colleague" while the name has not come to this tablet. */
export function personName(id: string): string {
  if (id === '') return 'nobody yet';
  if (id === session.value?.person.id) return 'you';
  const name = colleagues.value.get(id)?.name ?? '';
  return name === '' ? 'a colleague' : name;
}
