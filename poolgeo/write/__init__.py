"""Files and pictures of a finished pool: drawing, mesh file, picture, tables. The last stage.

atomic      a file is there whole or not at all
palette     colour and label of each kind of surface and each sense of edge
layers      the drawing's layers
tables      takeoff as text on a terminal, CSV and JSON
meshfile    GLB, STL, PLY and OBJ
dxf         the plan as DXF (plan_lines, labels, sheet: its parts)
scene       the picture and the viewer (display: what they need of the machine)
"""
