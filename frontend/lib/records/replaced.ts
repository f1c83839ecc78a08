import { serverLimits, type AnswerGiven, type Visit } from '../model.gen';

/**
 * The answer with what it replaces: those to its item that the visit shows. One
 * that waits on this tablet may yet be set aside by the server; so what that one
 * replaced is named as well.
 */
export function withReplaced(visit: Pick<Visit, 'answers'>, answer: AnswerGiven, tablet: string): AnswerGiven {
  const isOwn = (ref: string): boolean => ref.startsWith(`${tablet}:`);
  const heads = visit.answers.find((one) => one.item === answer.item)?.heads ?? [];
  const waiting = heads.filter((head) => head.pos === 0 && isOwn(head.ref));
  const before = waiting.flatMap((head) => head.replaces ?? []).filter((ref) => !isOwn(ref));
  const refs = new Set([...heads.map((head) => head.ref), ...before]);
  return { ...answer, replaces: [...refs].slice(0, serverLimits.answersReplaced) };
}
