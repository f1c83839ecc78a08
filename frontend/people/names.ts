/** Names of colleagues for their ids, fetched once when there is a network. */
import { signal } from '@preact/signals';
import type { PeopleList, PersonRow } from '../model.gen';
import { api, session } from '../store';

/** Colleagues by id; empty until loaded, and again after somebody else signs in. */
export const colleagues = signal<ReadonlyMap<string, PersonRow>>(new Map());

let loadedFor = '';

/** Fetches the colleagues of the signed-in person's teams; quiet when offline, since names are a help and no more. */
export async function loadColleagues(): Promise<void> {
  const now = session.value?.person.id ?? '';
  if (now === '' || now === loadedFor) return;
  loadedFor = now;
  try {
    const answer = await api<PeopleList>('GET', '/api/v1/people');
    colleagues.value = new Map(answer.people.map((person) => [person.id, person]));
  } catch {
    loadedFor = '';
  }
}

/** "you", a colleague's name, or "a colleague" while the name is not known here. */
export function personName(id: string): string {
  if (id === '') return 'nobody yet';
  if (id === session.value?.person.id) return 'you';
  return colleagues.value.get(id)?.name ?? 'a colleague';
}
