/** An answer in the words of its item. */
import type { AnswerGiven } from '../model.gen';
import type { Definition, Item } from '../store/definition';

/** Such as "2 – Some help", "71 cm", "left 4, right 2" or "not tested". */
export function answerWords(given: AnswerGiven, item: Item | undefined, checklist: Definition): string {
  if (given.state === 'not-applicable') return given.reason ? `does not apply: ${given.reason}` : 'does not apply';
  if (given.state !== 'answered') return 'not tested';
  if (given.level !== undefined) return levelWords(given.level, item, checklist);
  if (given.left !== undefined || given.right !== undefined) return `left ${given.left ?? '–'}, right ${given.right ?? '–'}`;
  return `${given.number ?? '–'}${item?.unit ? ` ${item.unit}` : ''}`;
}

function levelWords(level: string, item: Item | undefined, checklist: Definition): string {
  const text = item?.levels?.find((one) => one.level === level)?.text ?? checklist.help.find((one) => one.level === level)?.name;
  return text === undefined ? level : `${level} – ${text}`;
}
