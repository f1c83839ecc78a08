import { useEffect, useState } from 'preact/hooks';
import { reasonOf } from '../../ui/saved';
import { plan as askPlan } from '../../lib';
import type { PlanDrawing, Visit } from '../../lib/model.gen';
import { planQuestion } from './plan';

export interface PlanAnswer {
  /** Null until the engine has answered, and where there is nothing to draw. */
  readonly plan: PlanDrawing | null;
  /** Why there is no drawing, or empty. */
  readonly error: string;
}

/** The drawing of one place as it is saved. */
export function usePlan(visit: Visit, place: string): PlanAnswer {
  const asked = planQuestion(visit, place);
  const [answer, setAnswer] = useState<PlanAnswer>({ plan: null, error: '' });
  useEffect(() => {
    if (asked === null) {
      setAnswer({ plan: null, error: '' });
      return undefined;
    }
    let here = true;
    askPlan(asked).then(
      (plan) => here && setAnswer({ plan, error: '' }),
      (error: unknown) => here && setAnswer({ plan: null, error: reasonOf(error) }),
    );
    return () => {
      here = false;
    };
  }, [JSON.stringify(asked)]);
  return answer;
}
