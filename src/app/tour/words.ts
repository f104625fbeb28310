/** The words of the short tour, loaded with it. */
export const words = {
  label: 'A short tour of three questions',
  of: (n: number, all: number): string => `Question ${n} of ${all}`,
  back: 'Back',
  next: 'Next',
  done: 'Done',
  leave: 'Leave (Esc)',
  left: 'The tour is closed. The button with the question mark at the top calls it again.',
  stand:
    'Each option stands over its own column. The word in this row is its verdict: holds, softens, slumps, or depends on the swatch; under it stands why. The dashed outline on the mat is the bag as drafted, the solid one where it settled.',
  straps: {
    screen: 'This screen moves the straps along the mouth and shows how the bag then hangs and what each anchor pulls.',
    fields:
      'Type where a strap is sewn on, from the side, and how long it is. Then choose a hanging stance: the columns show the tilt, the sag of the mouth and the pull at each anchor.',
    none: 'The flat panels show where each strap is sewn on, and an anchor can be dragged there. A bag that has straps also has a group Straps among its controls; hang it, and the columns show tilt, sag and the pull at each anchor.',
    caution: 'These are pulls of a bag that hangs still. They say nothing about what a seam or strap carries: test it with a real load.',
  },
  swatch:
    'A strip of your own cloth beats every preset. Push it over a table’s edge, write down its overhang and weight under “My swatch” here, and the bag is settled with your cloth instead of an estimate.',
} as const;
