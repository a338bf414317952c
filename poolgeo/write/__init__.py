"""Files and pictures of a finished pool: the last stage.

Read from top to bottom::

    atomic                a file is there whole or not at all
    palette, layers       how kinds of surface, senses of edges and layers look: two tables
    tables, terminal      the takeoff as CSV and JSON, and as text
    meshfile              GLB, STL, PLY and OBJ
    sheet                 the drawing's units, scale and height of text
    plan_lines            runs and rims seen from above
    boxes, positions      where a label could stand and what it would cover
    labels                which of these it takes
    plan_view, legend     all that stands on the plan, and its words
    pen, dxf              the same as entities, written and audited
    display               what rendering needs of the machine
    camera, paths         where a picture is taken from, polylines in space
    swatches, scene       the picture and the viewer
"""
