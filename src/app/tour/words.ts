/** The words of the short tour, loaded with it. */
export const words = {
  label: 'A short tour of three questions',
  of: (n: number, all: number): string => `Question ${n} of ${all}`,
  back: 'Back',
  next: 'Next',
  done: 'Done',
  leave: 'Leave (Esc)',
  left: 'The tour is closed. The ? button at the top opens it again.',
  stand:
    'Each option stands over its own column. The word in this row is its verdict: holds, softens, slumps, or depends on the swatch. The reason stands under it. The dashed outline on the mat is the bag as drafted; the bag itself shows where it settled.',
  straps: {
    screen: 'This screen moves the straps along the mouth and shows how the bag then hangs and what each anchor pulls.',
    fields:
      'Type how far from the side a strap is sewn on, and how long it is. Then choose a hanging stance. The columns show the tilt, how far the mouth sags and the pull at each anchor.',
    none: 'The flat panels show where each strap is sewn on. Drag an anchor to move it. A bag with straps also has a group Straps among its controls. Hang the bag, and the columns show the tilt, the sag and the pull at each anchor.',
    caution: 'These are the pulls of a bag that hangs still. They say nothing about what a seam or strap will hold: test it with a real load.',
  },
  swatch:
    'A strip of your own cloth is better than any preset. Push it over a table’s edge. Type its overhang and its weight under “My swatch” here. The bag then settles with your cloth instead of an estimate.',
} as const;
