import { FONT, INK, MUTED, PAPER, RULE } from '../picture/tokens.ts';

/**
 * Style of a report. On paper: A4 or US letter, whichever the printer has; a picture, a row, a short table and a heading with what it heads stay on one
 * sheet. Names at the foot of each sheet where the browser can set them.
 */
export const reportStyle = (foot: string): string => `body{margin:0;background:${PAPER};color:${INK};font:15px/1.45 ${FONT};font-variant-numeric:tabular-nums}
main{max-width:1120px;margin:0 auto;padding:24px}h1{font-size:26px;font-weight:650;line-height:1.2;margin:0}h2{font-size:18px;font-weight:650;margin:36px 0 8px}
h3{font-size:15px;font-weight:650;margin:20px 0 4px}p{margin:0 0 8px;max-width:52em}.faint,figcaption{color:${MUTED}}.question{font-size:17px;margin:8px 0 16px}
figure{margin:16px 0}figure svg{max-width:100%;height:auto;display:block}figcaption{font-size:13px;margin-top:4px}
.wide{overflow-x:auto}table{border-collapse:collapse;margin:8px 0}th,td{text-align:left;vertical-align:top;padding:5px 14px 5px 0;border-top:1px solid ${RULE}}
th{font-weight:600;color:${MUTED};vertical-align:bottom}.figure{text-align:right}ul{padding-left:20px;margin:8px 0}li{max-width:52em}
.ticks{list-style:none;padding-left:0}.ticks li{padding-left:24px;position:relative}
.ticks li::before{content:"";position:absolute;left:0;top:4px;width:12px;height:12px;border:1px solid ${INK}}
@page{margin:14mm 13mm 16mm;@bottom-left{content:${cssText(foot)};font:8pt ${FONT};color:${MUTED}}@bottom-right{content:counter(page) " of " counter(pages);font:8pt ${FONT};color:${MUTED}}}
@media print{body{background:#fff;font-size:9.5pt;print-color-adjust:exact;-webkit-print-color-adjust:exact}main{max-width:none;padding:0}
h1{font-size:18pt}h2{font-size:12.5pt;margin:16pt 0 5pt}h3{font-size:10pt;margin:10pt 0 3pt}.question{font-size:11pt}p,li{max-width:none;orphans:3;widows:3}
h1,h2,h3{break-after:avoid;break-inside:avoid}figure,tr,li,thead{break-inside:avoid}.wide{overflow:visible;break-inside:avoid}.wide.long{break-inside:auto}
figure{margin:8pt 0}figure svg{max-height:215mm;width:100%}thead{display:table-header-group}th,td{padding:2.5pt 8pt 2.5pt 0;font-size:8.5pt}figcaption{font-size:8pt}
.keep,p{break-inside:avoid}h2+p,h3+p,h2+.wide{break-before:avoid}p:has(+.wide),p:has(+ul){break-after:avoid}}`;

/** A text as a string of a style sheet. */
const cssText = (text: string): string => `"${text.replace(/[\\"<>&\n\r\f]/g, (c) => `\\${c.charCodeAt(0).toString(16)} `)}"`;
