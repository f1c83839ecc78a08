import { session } from '../store';

/** Who said something, in words: the person at this tablet is "you". */
export function whoWords(person: string): string {
  return session.value?.person.id === person ? 'you' : `a colleague (${person})`;
}
