import type { RoseArm } from '../../lib/model.gen';

/** How an arm stands to what the control asks, in a word; empty where nothing is wrong. */
export function standing(arm: RoseArm): string {
  return arm.short ? 'too little' : arm.tight ? 'tight' : '';
}
