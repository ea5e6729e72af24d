"""drawings"""
