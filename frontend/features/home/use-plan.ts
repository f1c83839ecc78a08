import { useEffect, useState } from 'preact/hooks';
import { reasonOf } from '../../ui/saved';
import { plan as askPlan } from '../../lib';
import type { Visit } from '../../lib/model.gen';
import { parsePlan, planQuestion, type Plan } from './plan';

export interface PlanAnswer {
  /** Null until the engine has answered, and where there is nothing to draw. */
  readonly plan: Plan | null;
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
    askPlan(asked.chair, asked.place).then(
      (text) => here && setAnswer({ plan: parsePlan(text), error: '' }),
      (error: unknown) => here && setAnswer({ plan: null, error: reasonOf(error) }),
    );
    return () => {
      here = false;
    };
  }, [asked?.chair, asked?.place]);
  return answer;
}
