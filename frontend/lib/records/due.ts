import { retestItems, type Answer, type RetestItem, type Visit } from '../model.gen';

const [releaseItem, stopCallItem] = retestItems;

/**
 * Items that must be tried again: everything that was said of them is from
 * before a change of a setting. Of releases only those at the site of the
 * set-up count, where one was chosen.
 */
export function dueAgain(visit: Visit): readonly RetestItem[] {
  const items: RetestItem[] = [];
  if (isReleaseDue(visit)) items.push(releaseItem);
  if (visit.answers.some(isStopCallDue)) items.push(stopCallItem);
  return items;
}

function isReleaseDue(visit: Visit): boolean {
  const fresh = new Map<string, boolean>();
  for (const one of visit.readings) {
    if (one.what !== 'release' || one.slip || (visit.setup && one.site !== visit.setup.site)) continue;
    fresh.set(one.site, fresh.get(one.site) === true || one.due !== true);
  }
  return [...fresh.values()].includes(false);
}

function isStopCallDue(answer: Answer): boolean {
  return answer.heads.some((head) => head.due) && !answer.heads.some((head) => head.state === 'answered' && !head.due);
}
