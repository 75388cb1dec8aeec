"""Earliest times against networkx: shortest paths over the negated lengths (Bellman-Ford)."""

from __future__ import annotations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from partsbench.core.finish.stn import Arc, Impossible, earliest, latest

POINTS = [f"p{i}" for i in range(9)]
ARCS = st.lists(
    st.builds(Arc, st.sampled_from(POINTS), st.sampled_from(POINTS), st.integers(-900, 300)),
    max_size=40,
)


def longest_by_networkx(arcs: list[Arc], start: str, turned: bool) -> dict[str, int] | None:
    graph = nx.DiGraph()
    graph.add_node(start)
    for arc in arcs:
        ends = (arc.after, arc.before) if turned else (arc.before, arc.after)
        known = graph.get_edge_data(*ends, default={"weight": 10**9})
        graph.add_edge(*ends, weight=min(known["weight"], -arc.seconds))
    try:
        found = nx.single_source_bellman_ford_path_length(graph, start)
    except nx.NetworkXUnbounded:
        return None
    return {point: -length for point, length in found.items()}


@given(ARCS, st.booleans())
def test_the_same_longest_paths_and_the_same_impossible_ones(arcs, turned):
    arcs = [a for a in arcs if a.before != a.after]
    ours = latest(arcs, "p0", 0) if turned else earliest(arcs, "p0")
    theirs = longest_by_networkx(arcs, "p0", turned)
    if isinstance(ours, Impossible):
        assert theirs is None
    elif turned:
        assert {p: -t for p, t in ours.items()} == theirs
    else:
        assert ours == theirs


def test_the_directed_acyclic_case_is_the_critical_path():
    arcs = [
        Arc("now", "wash", 8),
        Arc("wash", "sand", 720),
        Arc("now", "fill", 10),
        Arc("fill", "sand", 1440),
        Arc("sand", "coat", 4),
    ]
    graph = nx.DiGraph()
    graph.add_weighted_edges_from((a.before, a.after, a.seconds) for a in arcs)
    assert earliest(arcs, "now")["coat"] == nx.dag_longest_path_length(graph) == 1454
