/** The look of the sheet on a screen and from a browser's printer: black on white, large boxes, one column on a phone. */
export const style = `
*{box-sizing:border-box}
html{font:17px/1.4 system-ui,sans-serif;color:#000;background:#fff;-webkit-text-size-adjust:100%}
body{max-width:56rem;margin:0 auto;padding:0 .8rem 4rem}
section{scroll-margin-top:7.5rem}
h1{font-size:1.5rem;margin:1rem 0 .3rem}
h2{font-size:1.4rem;margin:2.5rem 0 .5rem;border-bottom:4px solid #000}
h3{font-size:1.2rem;margin:1.5rem 0 .5rem;border-bottom:2px solid #000}
h4{font-size:1.05rem;margin:0;flex:1}
p{margin:.25rem 0;overflow-wrap:anywhere}
.small{font-size:.85rem}
.strong{font-weight:600}
.figure{font-size:1.3rem;font-weight:700}
.bar{position:sticky;top:0;background:#fff;border-bottom:2px solid #000;padding:.5rem 0;display:flex;flex-wrap:wrap;gap:.5rem;align-items:center;z-index:1}
.bar button,.bar .open{font:inherit;padding:.5rem .8rem;border:2px solid #000;background:#fff;color:#000;cursor:pointer;min-height:44px;display:inline-flex;align-items:center}
.bar button:focus-visible,.bar .open:focus-within,input:focus-visible{outline:3px solid #000;outline-offset:2px}
.bar .open input{position:absolute;opacity:0;width:1px;height:1px}
#message{font-weight:600}
nav ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.3rem 1rem}
a{color:#000}
.step{border-bottom:1px solid #000;padding:.6rem 0}
.head{display:flex;gap:.6rem;align-items:flex-start}
.frame,.heavy-frame{border:1px solid #000;padding:.5rem;margin:.5rem 0}
.heavy-frame{border-width:4px}
.caution{border:3px solid #000;padding:.4rem;margin:.5rem 0;display:flex;gap:.5rem;align-items:flex-start;font-weight:600}
.caution>p:first-of-type{white-space:nowrap;overflow-wrap:normal}
.caution figure{flex:none;margin:0}
#progress:empty{display:none}
.beside{display:flex;flex-wrap:wrap;gap:.2rem 1rem}
.beside>div{flex:1 1 15rem}
.flow,.boxes{display:flex;flex-wrap:wrap;gap:.5rem;align-items:center;margin:.3rem 0}
.boxes p{min-width:1.5rem}
.tick,.blank{display:inline-flex;gap:.5rem;align-items:center;min-height:44px}
.tick input{width:1.9rem;height:1.9rem;flex:none;accent-color:#000}
.boxes .tick{flex-direction:column;gap:0;font-size:.85rem}
.blank{font-weight:600;flex-wrap:wrap}
.blank input{font:inherit;width:7.5rem;max-width:100%;height:44px;border:2px solid #000;border-radius:0;padding:0 .4rem}
.blank .unit{font-weight:400}
.blank input[aria-invalid=true]{border-width:5px}
.blank output:empty{display:none}
figure{margin:.3rem 0}
svg{max-width:100%;height:auto;overflow:visible}
.scroll{overflow-x:auto;max-width:100%}
table{border-collapse:collapse;width:100%;margin:.4rem 0}
th,td{text-align:left;vertical-align:top;padding:.25rem .5rem;border-bottom:1px solid #000}
th{font-weight:600;font-size:.85rem}
td.right,th.right{text-align:right}
.draft{border:6px solid #000;padding:.5rem;font-weight:700}
@media print{
.bar,nav,.screen-only{display:none}
html{font-size:11pt}
body{max-width:none;padding:0}
.step,.frame,.heavy-frame,.caution,tr,figure{break-inside:avoid}
h2,h3,h4,.caution,h3+p{break-after:avoid}
section{break-before:page}
section:first-of-type{break-before:auto}
}
`;
