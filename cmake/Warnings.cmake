# Link tarry_warnings into our own targets only: every warning is an error there.
add_library(tarry_warnings INTERFACE)
target_compile_options(tarry_warnings INTERFACE
    $<$<COMPILE_LANG_AND_ID:CXX,GNU,Clang>:-Wall -Wextra -Wpedantic -Werror -Wconversion -Wsign-conversion -Wshadow
        -Wold-style-cast -Wnon-virtual-dtor -Woverloaded-virtual -Wcast-align -Wformat=2 -Wdouble-promotion>)
