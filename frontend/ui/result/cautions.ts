/** The standing cautions, in one place: first start, results and printouts show the same words. */
export const CAUTIONS: readonly string[] = [
  'This app helps a qualified therapist collect and explain findings. It does not decide whether someone may drive. The licensed therapist who saw the person decides, within their scope of practice and local rules.',
  'The numbers and levels are working aids. They have not been scientifically validated. Do not use a score alone to refuse, grant or remove a wheelchair.',
  'Before any driving: someone has a working way to stop the chair, speed is at its lowest, stairs and edges are blocked, feet and hands are inside, and the person agrees.',
  'Stop at once for: seizure, faintness, breathing trouble, sudden pain, loss of control, chair moving by itself, smoke or smell. Get medical help by your local emergency number.',
  'Ask the treating doctor about seizures, blackouts, drowsiness, heart or breathing problems and vision before driving alone. Apply your country’s rules.',
  'Pain, numbness, jaw locking or new weakness at the driving site: stop using that control and get it checked.',
  'Follow the chair and control makers’ instructions for slopes, kerbs, loads, vehicle travel, charging, cleaning and radio sources. They outrank this app.',
  'Building, ramp, road and transport figures shown here are reference points from named places. Check your local code and the law where the person lives.',
  'Only trained people change settings. Write down before and after. Re-test stopping after each change.',
  'Unexplained movement or a control that sticks: take it out of use, keep it as it is, tell your service and report to your device safety authority.',
  'Tying or locking a chair to keep someone from moving may be restraint. It needs lawful grounds.',
  'Forecasts are estimates. Illness does not follow a line. Recheck on time.',
  'A low level is not a verdict on a person. It names the help needed today and the next step.',
  'Information is stored on this tablet until sent. Keep it locked; report loss at once.',
  'If the app fails, carry on with your clinical judgement and paper. No part of care may wait for the app.',
];

/** Who the app is for and what it is not. */
export const INTENDED_USE: readonly string[] = [
  'It is meant for qualified practitioners who assess power wheelchair driving.',
  'It is not for use in an emergency.',
  'Software that informs clinical decisions may be regulated where you work. Take advice on medical device law before you rely on it.',
];

/** The cautions that stand beside every level. */
export const RESULT_CAUTIONS: readonly string[] = [0, 1, 12].flatMap((at) => CAUTIONS[at] ?? []);
