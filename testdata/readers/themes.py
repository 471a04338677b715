"""themes.py FILE.gpkg LAYER opens a layer with QGIS, which takes its style from the file, and prints what
is wrong with the themes: a condition that QGIS cannot evaluate, or a row that a theme draws not once.
It needs Debian's python3-qgis."""
import os
import sys

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
from qgis.core import (QgsApplication, QgsExpression, QgsExpressionContext, QgsExpressionContextUtils,
                       QgsVectorLayer)

app = QgsApplication([], False)
app.initQgis()
layer = QgsVectorLayer(f"{sys.argv[1]}|layername={sys.argv[2]}", sys.argv[2], "ogr")
problems = []
if not layer.isValid() or layer.renderer().type() != "RuleRenderer" or not layer.labelsEnabled():
    problems.append("the layer does not open with its style")
context = QgsExpressionContext(QgsExpressionContextUtils.globalProjectLayerScopes(layer))
texts = [layer.labeling().settings().fieldName, layer.displayExpression()]
for text in texts:
    e = QgsExpression(text)
    if e.hasParserError():
        problems.append(f"{text}: {e.parserErrorString()}")
themes = layer.renderer().rootRule().children()
print(len(themes), "themes", sum(t.active() for t in themes), "ticked")
for theme in themes:
    rules = [r for r in theme.children() if not r.isElse()]
    others = len(rules) < len(theme.children())
    expressions = [QgsExpression(r.filterExpression()) for r in rules]
    for e in expressions:
        e.prepare(context)
    for feature in layer.getFeatures():
        context.setFeature(feature)
        drawn = 0
        for e in expressions:
            drawn += bool(e.evaluate(context))
            if e.hasEvalError() or e.hasParserError():
                problems.append(f"{theme.label()}: {e.expression()}: {e.evalErrorString() or e.parserErrorString()}")
        if drawn > 1 or drawn == 0 and not others:
            problems.append(f"{theme.label()}: row {feature.id()} is drawn {drawn} times")
for p in sorted(set(problems))[:20]:
    print(p)
print(len(problems), "problems")
