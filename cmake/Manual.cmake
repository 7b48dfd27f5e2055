# Target docs: the manual and the README as pages, <build>/docs/manual.html and README.html, with their pictures. Installed
# and packed where there is a cmark-gfm (Debian's package of that name).
#
# Run as a script it makes one page: cmake -DCMARK=... -DFROM=x.md -DINTO=x.html -DVERSION=... -P Manual.cmake
if(CMAKE_SCRIPT_MODE_FILE)
    execute_process(COMMAND "${CMARK}" --extension table --unsafe "${FROM}" OUTPUT_VARIABLE body COMMAND_ERROR_IS_FATAL ANY)
    # Pictures and pages lie beside each other in docs.
    string(REGEX REPLACE "src=\"[^\"]*/([^/\"]+\\.png)\"" "src=\"\\1\"" body "${body}")
    string(REGEX REPLACE "href=\"(Source/Manual/)?(README|manual)\\.md\"" "href=\"\\2.html\"" body "${body}")
    string(REGEX REPLACE "<h2>([^<]+)</h2>" "<h2 id=\"\\1\">\\1</h2>" body "${body}")
    if(NOT body MATCHES "<h1>([^<]+)</h1>")
        message(FATAL_ERROR "${FROM}: no title")
    endif()
    set(title "${CMAKE_MATCH_1}")
    file(CONFIGURE OUTPUT "${INTO}" @ONLY CONTENT [[<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>@title@</title>
<style>
:root { color-scheme: light dark; --ink: #1b1c1e; --ground: #f6f3ed; --panel: #edeae2; --line: #b9b3a6; --link: #004f91; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #ece9e2; --ground: #17191c; --panel: #1e2125; --line: #444a52; --link: #82bbec; }
}
body { color: var(--ink); background: var(--ground); font: 17px/1.55 system-ui, sans-serif; max-width: 46rem; margin: 0 auto; padding: 1.5rem 1rem 4rem; }
h1, h2, h3 { line-height: 1.2; margin: 2em 0 .6em; }
h1 { margin-top: .5em; }
a { color: var(--link); }
img { max-width: 100%; height: auto; }
td img { min-width: 20rem; }
pre { background: var(--panel); padding: .8em 1em; overflow-x: auto; font-size: .82em; line-height: 1.6; }
code { font-size: .92em; }
pre code { font-size: 1em; }
td:first-child strong { white-space: nowrap; }
table { border-collapse: collapse; margin: 1em 0; display: block; overflow-x: auto; }
th, td { border-bottom: 1px solid var(--line); padding: .35em .7em .35em 0; text-align: left; vertical-align: top; }
thead th:empty { border: 0; padding: 0; }
@media print { body { font-size: 11pt; max-width: none; } pre { white-space: pre-wrap; } pre, table, img { break-inside: avoid; } }
</style>
</head>
<body>
@body@
<p><small>Tarry @VERSION@</small></p>
</body>
</html>
]])
    return()
endif()

find_program(cmark_gfm cmark-gfm)
if(NOT cmark_gfm)
    message(STATUS "No cmark-gfm: the manual stays as it is in Source/Manual")
    return()
endif()
set(docs "${PROJECT_BINARY_DIR}/docs")
file(GLOB pictures CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/Source/Editor/Pictures/*.png" "${PROJECT_SOURCE_DIR}/Source/Manual/*.png")
set(pages "")
foreach(text "${PROJECT_SOURCE_DIR}/README.md" "${PROJECT_SOURCE_DIR}/Source/Manual/manual.md")
    get_filename_component(name "${text}" NAME_WE)
    add_custom_command(OUTPUT "${docs}/${name}.html"
        COMMAND "${CMAKE_COMMAND}" "-DCMARK=${cmark_gfm}" "-DFROM=${text}" "-DINTO=${docs}/${name}.html"
                "-DVERSION=${PROJECT_VERSION}" -P "${CMAKE_CURRENT_LIST_FILE}"
        COMMAND "${CMAKE_COMMAND}" -E copy_if_different ${pictures} "${docs}"
        DEPENDS "${text}" ${pictures} "${CMAKE_CURRENT_LIST_FILE}"
        COMMENT "Page ${name}.html"
        VERBATIM)
    list(APPEND pages "${docs}/${name}.html")
endforeach()
add_custom_target(docs ALL DEPENDS ${pages})
install(FILES ${pages} ${pictures} DESTINATION "${CMAKE_INSTALL_DOCDIR}")
