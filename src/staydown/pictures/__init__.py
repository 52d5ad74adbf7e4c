"""What does it look like?

In: numbers and short texts ready to show, as small records of each picture.
Out: a picture: title, alternative text, and a drawing (SVG) or a chart (Vega-Lite). One style for paper and page.
"""
